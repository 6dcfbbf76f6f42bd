using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Pots and their root forecasts over the ledger.</summary>
public sealed class PotDesk(BenchDatabase database, TimeProvider clock) : IPotDesk
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
        var errors = await RecordedForecasts.InHandAsync(database, clock, cancel);
        var fed = await FedAsync(standing.Plant.Id, can.Id, cancel);
        try
        {
            return await Task.Run(() => Forecast(standing, window, can, days, database.Learned, errors, fed), cancel);
        }
        catch (PotInputException refused)
        {
            throw new EntryException(refused.Field, refused.Value, refused.Accepted);
        }
    }

    /// <summary>When a plant first got of a can; null where it has not yet.</summary>
    private Task<DateTime?> FedAsync(Guid plantId, Guid canId, CancellationToken cancel) => database.ReadAsync<DateTime?>(async db =>
    {
        var feeds = await (
            from feeding in db.Feedings
            where feeding.PlantId == plantId && feeding.CanId == canId
            join fact in db.Facts on feeding.FactId equals fact.Id
            select fact).ToListAsync(cancel);
        return feeds.Count == 0 ? null : feeds.Min(fact => FeedTimes.Of(fact.When));
    }, cancel);

    private static RootForecastView Forecast(Standing standing, Growing.Band window, CanPlan can, int days, LearnedPots? learned, ForecastErrors errors, DateTime? fed)
    {
        var pot = standing.Pot.ToPot();
        // Of a can that was poured, no more than was known then: as it was recorded.
        var model = RootModel.Of(pot, learned?.FindTaught(pot, fed), learned);
        var by = errors.Of(model.Pots, fed);
        var request = model.Request(can.MolPerKgWater, days, window) with { Told = model.Told(by) };
        var forecast = PotForecaster.Run(request);
        var advice = PotInverse.BestPour(new PourRequest
        {
            Setup = model.Setup,
            Climate = model.Climate,
            FeedMolPerKgWater = can.MolPerKgWater,
            Days = days,
            RootPH = window,
            Parameters = model.Parameters,
            Before = model.Known is null ? null : request.Start,
            Told = request.Told,
        });
        return new RootForecastView
        {
            Pot = FormattableString.Invariant($"no. {standing.Plant.Number}, {standing.Plant.CurrentName}: {standing.Pot.MediumLitres:0.##} L {standing.Pot.Medium}, {CultureWords.Of(standing.Pot.Culture)}"),
            Days = days,
            PHWindow = window,
            Moments = [.. forecast.Points.Select(point => new RootMoment(
                point.Hours, point.Medium.PH, point.Medium.EcMicrosiemensPerCm, model.ToldLitres(point.Reservoir?.Litres ?? 0, point.Hours, by)))],
            ShareInWindow = forecast.ShareInWindow,
            Corrected = BandCorrectionWords.AtTheRoot(model.Pots, by),
            LeachDueInDays = forecast.LeachDueDay,
            BestPourPH = advice.PourPH.Ideal,
            BestStrength = advice.Strength,
            Assumptions = ["The feed has wetted the pot through and filled the reservoir.", PotModels.LeafAssumption(model.Setup), .. forecast.Notes, advice.Words],
        };
    }
}
