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

    /// <summary>With what this bench knows now, of which each feed is told no more than was known when it was poured.</summary>
    public static async Task<BelievedForecasts> OfBenchAsync(BenchDatabase database, TimeProvider clock, CancellationToken cancel) =>
        new(database.Learned, await RecordedForecasts.InHandAsync(database, clock, cancel));

    /// <summary>For some pots that get a feed, in their order.</summary>
    /// <param name="pots">Plants with their pots.</param>
    /// <param name="feed">What is poured, mol per kg of water.</param>
    /// <param name="canId">From which can.</param>
    /// <param name="feedFactId">The fact that will record it.</param>
    /// <param name="fed">When it was poured, on the bench's clock, where that lies back; null for now.</param>
    public IReadOnlyList<RootForecastBelieved> Of(IEnumerable<(Guid PlantId, Pot Pot)> pots, ComponentAmounts feed, Guid canId, Guid feedFactId, DateTime? fed = null) =>
    [
        .. pots.Select(pair =>
        {
            var known = learned?.FindTaught(pair.Pot, fed);
            var (parameters, moments, whyNone) = known is null ? Of(pair.Pot, feed) : Compute(pair.Pot, feed, known);
            var alike = RootModel.AlikeOf(pair.Pot, known);
            return new RootForecastBelieved(
                pair.PlantId, pair.Pot.Id, canId, feedFactId, alike.Model, parameters.Length > 0 ? parameters : null, moments, whyNone,
                moments.Count > 0 ? _errors.Of(alike, fed) : null);
        }),
    ];

    /// <summary>The forecasts of feeds that are about to be recorded plant by plant, those sent before left out. Each is dated as its feed is.</summary>
    public static async Task<IReadOnlyList<NewFact>> OfFeedsAsync(BenchDatabase database, IReadOnlyList<NewFact> facts, TimeProvider clock, CancellationToken cancel)
    {
        var feeds = facts.Where(fact => fact.Payload is PlantGiven { What: Pouring.Feed, CanId: not null }).ToDictionary(fact => fact.Id, fact => (Given: (PlantGiven)fact.Payload, fact.When));
        if (feeds.Count == 0)
        {
            return [];
        }

        var (known, cards, pots) = await database.ReadAsync(
            async db =>
            {
                var (ids, cans) = (feeds.Keys.ToList(), feeds.Values.Select(feed => feed.Given.CanId!.Value).Distinct().ToList());
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
                .. from feed in feeds
                   let given = feed.Value.Given
                   where !known.Contains(feed.Key) && cards.ContainsKey(given.CanId!.Value) && pots.ContainsKey(given.PlantId)
                   let fed = feed.Value.When is { } when ? FeedTimes.Of(when) : (DateTime?)null
                   from believed in forecasts.Of([(given.PlantId, pots[given.PlantId])], cards[given.CanId!.Value], given.CanId!.Value, feed.Key, fed)
                   select new NewFact { Id = Guid.CreateVersion7(clock.GetUtcNow()), SubjectId = believed.PlantId, Payload = believed, When = feed.Value.When },
            ],
            cancel);
    }

    private (string Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone) Of(Pot pot, ComponentAmounts feed)
    {
        var key = (FormattableString.Invariant($"{pot.Culture}|{pot.Medium}|{pot.MediumLitres:R}|{pot.ReservoirLitres:R}"), feed);
        if (!_known.TryGetValue(key, out var known))
        {
            _known[key] = known = Compute(pot, feed, null);
        }

        return known;
    }

    // A pouring is a fact whether or not there is a model of the pot.
    private (string Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone) Compute(Pot pot, ComponentAmounts feed, FittedPot? known)
    {
        try
        {
            var model = RootModel.Of(pot, known, learned);
            var forecast = PotForecaster.Run(model.Request(feed, s_days[^1], s_anyWindow));
            return (Digits(model.Setup, model.Climate, model.Parameters), [.. s_days.Select(day => Moment(forecast, day, model))], null);
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

    private static BelievedMoment Moment(PotForecast forecast, double day, RootModel model)
    {
        var start = forecast.Points[0];
        var point = forecast.Points.MinBy(each => Math.Abs(each.Hours - 24 * day))!;
        var factors = model.Spreads.SelectMany(one => new[] { one.Low(model.Parameters), one.High(model.Parameters) }).Select(each => each.WaterLossFactor / model.Parameters.WaterLossFactor).ToList();
        return new BelievedMoment(
            day, Rounded(model.PH(point.Medium.PH), 3), Rounded(model.Ec(point.Medium.EcMicrosiemensPerCm), 1),
            Left(start.Medium.Litres, point.Medium.Litres), Left(start.Reservoir?.Litres ?? 0, point.Reservoir?.Litres ?? 0));

        Expected Left(double full, double now)
        {
            var left = new Expected(Math.Max(0, full - (full - now) * factors.Max()), now, Math.Min(full, full - (full - now) * factors.Min()));
            return Rounded(model.Litres(left, full), 4);
        }
    }

    private static Expected Rounded(Expected value, int digits) => new(Math.Round(value.Low, digits), Math.Round(value.Value, digits), Math.Round(value.High, digits));

    private static string Digits(PotSetup setup, PotClimate climate, PotParameters parameters)
    {
        var text = FactJson.Write(setup with { Id = Guid.Empty }) + FactJson.Write(climate) + FactJson.Write(parameters);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..12];
    }
}
