using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Pots and their root forecasts over the ledger.</summary>
public sealed class PotDesk(BenchDatabase database) : IPotDesk
{
    private const int MostDays = 60;
    private static readonly string s_forecast = FactKinds.NameOf<RootForecastBelieved>();

    public Task<IReadOnlyList<PotView>> ListAsync(CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<PotView>>(async db =>
    [
        .. (await BenchReader.StandingAsync(db, cancel)).Select(standing => new PotView
        {
            Id = standing.Pot.Id,
            PlantId = standing.Plant.Id,
            PlantNumber = standing.Plant.Number,
            PlantName = standing.Plant.CurrentName,
            Place = standing.Place,
            Medium = standing.Pot.Medium,
            Culture = CultureWords.Of(standing.Pot.Culture),
            MediumLitres = standing.Pot.MediumLitres,
            ReservoirLitres = standing.Pot.ReservoirLitres,
            FeedEveryDays = standing.Pot.FeedEveryDays,
        }),
    ], cancel);

    public async Task<RootForecastView> ForecastAsync(Guid potId, CanPlan can, int days = 7, CancellationToken cancel = default)
    {
        var standing = (await StandingAsync(cancel)).FirstOrDefault(pair => pair.Standing.Pot.Id == potId);
        return standing.Standing is null
            ? throw new EntryException("pot", potId.ToString(), "a pot that holds a plant on this bench")
            : await ForecastAsync(standing.Standing, standing.Want, can, days, cancel);
    }

    public async Task<RootForecastView> ForecastGroupAsync(DueGroup group, CanPlan can, int days = 7, CancellationToken cancel = default)
    {
        var members = group.Group.Portions.Select(portion => portion.PlantId).ToHashSet();
        // The usual pot: the middle one by size.
        var pots = (await StandingAsync(cancel)).Where(pair => members.Contains(pair.Standing.Plant.Id)).OrderBy(pair => pair.Standing.Pot.MediumLitres).ToList();
        return pots.Count == 0
            ? throw new EntryException("group", group.Group.Name, "a group with at least one plant in a pot on this bench")
            : await ForecastAsync(pots[pots.Count / 2].Standing, group.Group.Want, can, days, cancel);
    }

    public Task<IReadOnlyList<BelievedForecast>> BelievedAsync(Guid plantId, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<BelievedForecast>>(async db =>
    {
        var fed = (await db.Feedings.Where(feeding => feeding.PlantId == plantId).Select(feeding => new { feeding.FactId, feeding.Day }).ToListAsync(cancel)).ToDictionary(feeding => feeding.FactId, feeding => feeding.Day);
        var facts = await db.Facts.Where(fact => fact.SubjectId == plantId && fact.Kind == s_forecast).OrderBy(fact => fact.Position).ToListAsync(cancel);
        return
        [
            .. facts.Select(fact => FactKinds.Read(fact.Kind, fact.Version, fact.Payload)).OfType<RootForecastBelieved>()
                .Where(believed => fed.ContainsKey(believed.FeedFactId)).Select(believed => new BelievedForecast(fed[believed.FeedFactId], believed)),
        ];
    }, cancel);

    private Task<List<(Standing Standing, Want? Want)>> StandingAsync(CancellationToken cancel) => database.ReadAsync(async db =>
    {
        var wants = (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want);
        return (await BenchReader.StandingAsync(db, cancel)).ConvertAll(standing => (standing, standing.Plant.WantId is { } id ? wants.GetValueOrDefault(id) : null));
    }, cancel);

    private async Task<RootForecastView> ForecastAsync(Standing standing, Want? want, CanPlan can, int days, CancellationToken cancel)
    {
        if (days is < 1 or > MostDays)
        {
            throw new EntryException("days", days.ToString(System.Globalization.CultureInfo.InvariantCulture), $"1 to {MostDays} days");
        }

        var window = want?.RootPH ?? throw new EntryException("want", standing.Plant.CurrentName, "a plant whose want is chosen: its window of pH at the root is needed");
        try
        {
            return await Task.Run(() => Forecast(standing, window, can, days, database.Learned), cancel);
        }
        catch (PotInputException refused)
        {
            throw new EntryException(refused.Field, refused.Value, refused.Accepted);
        }
    }

    private static RootForecastView Forecast(Standing standing, Growing.Band window, CanPlan can, int days, LearnedPots? learned)
    {
        var setup = PotModels.SetupOf(standing.Pot);
        // What its readings taught; where neither it nor a sibling was read, the data sheet.
        var known = learned?.FindTaught(standing.Pot);
        var climate = known is null ? new PotClimate() : learned!.ClimateOf(standing.Pot.Id);
        var bands = known is null ? null : learned!.BandsOf(setup);
        var parameters = known?.Parameters ?? PotParameters.Default;
        var start = PotModels.FilledWith(setup, can.MolPerKgWater, known);
        var forecast = PotForecaster.Run(new PotForecastRequest
        {
            Setup = setup,
            Climate = climate,
            Start = start,
            Days = days,
            RootPH = window,
            Parameters = parameters,
            Spreads = known?.Spreads ?? Uncertain.All,
            FittedTo = known is null ? null : LearnedPots.FittedTo(known),
        });
        var advice = PotInverse.BestPour(new PourRequest
        {
            Setup = setup,
            Climate = climate,
            FeedMolPerKgWater = can.MolPerKgWater,
            Days = days,
            RootPH = window,
            Parameters = parameters,
            Before = known is null ? null : start,
        });
        return new RootForecastView
        {
            Pot = FormattableString.Invariant($"no. {standing.Plant.Number}, {standing.Plant.CurrentName}: {standing.Pot.MediumLitres:0.##} L {standing.Pot.Medium}, {CultureWords.Of(standing.Pot.Culture)}"),
            Days = days,
            PHWindow = window,
            Moments = [.. forecast.Points.Select(point => new RootMoment(
                point.Hours, bands?.PH(point.Medium.PH) ?? point.Medium.PH, bands?.Ec(point.Medium.EcMicrosiemensPerCm) ?? point.Medium.EcMicrosiemensPerCm, point.Reservoir?.Litres ?? 0))],
            ShareInWindow = bands?.Share(forecast.ShareInWindow) ?? forecast.ShareInWindow,
            LeachDueInDays = forecast.LeachDueDay,
            BestPourPH = advice.PourPH.Ideal,
            BestStrength = advice.Strength,
            Assumptions = ["The feed has wetted the pot through and filled the reservoir.", PotModels.LeafAssumption(setup), .. forecast.Notes, advice.Words],
        };
    }
}
