using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The forecast believed when a can is poured, as a fact for each pot that gets it. Computed before anything is written.</summary>
/// <remarks>
/// Like pots fed alike are computed once. The pot's plant wanting nothing yet does not matter: the window of pH only judges a forecast. The band of the
/// water comes from the spread of the water loss alone, to which what is lost is proportional. What the model says is corrected by what its earlier forecasts were off by.
/// </remarks>
/// <param name="learned">What readings taught; null for the data sheet alone.</param>
/// <param name="errors">What recorded forecasts were off by so far; null where none are on record.</param>
internal sealed class BelievedForecasts(LearnedPots? learned = null, ForecastErrors? errors = null)
{
    /// <summary>Of the two-compartment model; goes up with every change that moves its figures. 2: grains in the reservoir by the medium.</summary>
    public const string Model = "two compartments, 2";

    /// <summary>The same with what the pot's readings taught; bands as <see cref="RootBands"/> makes them, pens' errors included. 2: algae in the reservoir. 3: warmth and light.</summary>
    public const string FittedModel = "two compartments, 3, fitted, bands of 90 %";

    private static readonly double[] s_days = [0, 1, 2, 3, 5, 7, 10, 14];
    private static readonly Band s_anyWindow = new(5, 6, 7);
    private readonly ForecastErrors _errors = errors ?? new ForecastErrors();
    private readonly Dictionary<(string, ComponentAmounts), (string Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone)> _known = [];

    /// <summary>With all that this bench knows now: a feed entered days late is corrected by readings taken since, too.</summary>
    public static async Task<BelievedForecasts> OfBenchAsync(BenchDatabase database, TimeProvider clock, CancellationToken cancel) =>
        new(database.Learned, await RecordedForecasts.InHandAsync(database, clock, cancel));

    /// <summary>For some pots that get a feed, in their order.</summary>
    /// <param name="pots">Plants with their pots.</param>
    /// <param name="feed">What is poured, mol per kg of water.</param>
    /// <param name="canId">From which can.</param>
    /// <param name="feedFactId">The fact that will record it.</param>
    public IReadOnlyList<RootForecastBelieved> Of(IEnumerable<(Guid PlantId, Pot Pot)> pots, ComponentAmounts feed, Guid canId, Guid feedFactId) =>
    [
        .. pots.Select(pair =>
        {
            var known = learned?.FindTaught(pair.Pot);
            var (parameters, moments, whyNone) = known is null ? Of(pair.Pot, feed) : Compute(pair.Pot, feed, known, learned!.ClimateOf(pair.Pot.Id));
            var model = known is null ? Model : FittedModel;
            return new RootForecastBelieved(
                pair.PlantId, pair.Pot.Id, canId, feedFactId, model, parameters.Length > 0 ? parameters : null, moments, whyNone,
                moments.Count > 0 ? _errors.Of(new PotsAlike(model, pair.Pot.Medium, pair.Pot.Culture)) : null);
        }),
    ];

    /// <summary>The forecasts of feeds that are about to be recorded plant by plant, those sent before left out.</summary>
    public static async Task<IReadOnlyList<NewFact>> OfFeedsAsync(BenchDatabase database, IReadOnlyList<NewFact> facts, TimeProvider clock, CancellationToken cancel)
    {
        var feeds = facts.Where(fact => fact.Payload is PlantGiven { What: Pouring.Feed, CanId: not null }).ToDictionary(fact => fact.Id, fact => (PlantGiven)fact.Payload);
        if (feeds.Count == 0)
        {
            return [];
        }

        var (known, cards, pots) = await database.ReadAsync(
            async db =>
            {
                var (ids, cans) = (feeds.Keys.ToList(), feeds.Values.Select(given => given.CanId!.Value).Distinct().ToList());
                return (
                    (await db.Facts.Where(fact => ids.Contains(fact.Id)).Select(fact => fact.Id).ToListAsync(cancel)).ToHashSet(),
                    (await db.Cans.Where(can => cans.Contains(can.Id)).ToListAsync(cancel)).ToDictionary(can => can.Id, can => can.Card.MolPerKgWater),
                    (await BenchReader.StandingAsync(db, cancel)).ToDictionary(standing => standing.Plant.Id, standing => standing.Pot.ToPot()));
            },
            cancel);
        var forecasts = await OfBenchAsync(database, clock, cancel);
        return await Task.Run<IReadOnlyList<NewFact>>(
            () =>
            [
                .. feeds.Where(feed => !known.Contains(feed.Key) && cards.ContainsKey(feed.Value.CanId!.Value) && pots.ContainsKey(feed.Value.PlantId))
                    .SelectMany(feed => forecasts.Of([(feed.Value.PlantId, pots[feed.Value.PlantId])], cards[feed.Value.CanId!.Value], feed.Value.CanId!.Value, feed.Key))
                    .Select(believed => new NewFact { Id = Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = believed.PlantId, Payload = believed }),
            ],
            cancel);
    }

    private (string Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone) Of(Pot pot, ComponentAmounts feed)
    {
        var key = (FormattableString.Invariant($"{pot.Culture}|{pot.Medium}|{pot.MediumLitres:R}|{pot.ReservoirLitres:R}"), feed);
        if (!_known.TryGetValue(key, out var known))
        {
            _known[key] = known = Compute(pot, feed, null, new PotClimate());
        }

        return known;
    }

    // A pouring is a fact whether or not there is a model of the pot.
    private (string Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone) Compute(Pot pot, ComponentAmounts feed, FittedPot? known, PotClimate climate)
    {
        try
        {
            var setup = PotModels.SetupOf(pot);
            var parameters = known?.Parameters ?? PotParameters.Default;
            var spreads = known?.Spreads ?? Uncertain.All;
            var forecast = PotForecaster.Run(new PotForecastRequest
            {
                Setup = setup,
                Climate = climate,
                Start = PotModels.FilledWith(setup, feed, known),
                Days = s_days[^1],
                RootPH = s_anyWindow,
                Parameters = parameters,
                Spreads = spreads,
            });
            return (Digits(setup, climate, parameters), [.. s_days.Select(day => Moment(forecast, day, parameters, spreads, known is null ? null : learned!.BandsOf(setup)))], null);
        }
        catch (EntryException refused)
        {
            return ("", [], refused.Message);
        }
        catch (PotInputException refused)
        {
            return ("", [], refused.Message);
        }
    }

    private static BelievedMoment Moment(PotForecast forecast, double day, PotParameters parameters, IReadOnlyList<Uncertain> spreads, RootBands? bands)
    {
        var start = forecast.Points[0];
        var point = forecast.Points.MinBy(each => Math.Abs(each.Hours - 24 * day))!;
        var factors = spreads.SelectMany(one => new[] { one.Low(parameters), one.High(parameters) }).Select(each => each.WaterLossFactor / parameters.WaterLossFactor).ToList();
        return new BelievedMoment(
            day, Rounded(bands?.PH(point.Medium.PH) ?? point.Medium.PH, 3), Rounded(bands?.Ec(point.Medium.EcMicrosiemensPerCm) ?? point.Medium.EcMicrosiemensPerCm, 1),
            Left(start.Medium.Litres, point.Medium.Litres), Left(start.Reservoir?.Litres ?? 0, point.Reservoir?.Litres ?? 0));

        Expected Left(double full, double now)
        {
            var left = new Expected(Math.Max(0, full - (full - now) * factors.Max()), now, Math.Min(full, full - (full - now) * factors.Min()));
            return Rounded(bands?.Litres(left, full) ?? left, 4);
        }
    }

    private static Expected Rounded(Expected value, int digits) => new(Math.Round(value.Low, digits), Math.Round(value.Value, digits), Math.Round(value.High, digits));

    private static string Digits(PotSetup setup, PotClimate climate, PotParameters parameters)
    {
        var text = FactJson.Write(setup with { Id = Guid.Empty }) + FactJson.Write(climate) + FactJson.Write(parameters);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..12];
    }
}
