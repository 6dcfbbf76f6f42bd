using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger.Facts;

namespace Rootwater.Benchmarks.Scale;

/// <summary>
/// A bench of any size, fact by fact, for measuring: every plant is fed or passed by each week, grows, loses leaves, flowers, is read, photographed and
/// repotted. About 1,300 facts per plant in ten years. A seed gives the same facts again. Nothing is computed from its figures.
/// </summary>
public sealed class LargeBench(int plants, int years, int seed = 7)
{
    private static readonly DateOnly s_lastDay = new(2026, 3, 14);
    private static readonly BelievedMoment[] s_believed =
        [.. new double[] { 0, 1, 2, 3, 5, 7, 10, 14 }.Select(day => new BelievedMoment(day, new(5.812, 6.013, 6.214), new(580.1, 620.2, 660.3), new(0.5012, 0.5234, 0.5456), new(0.2012, 0.2234, 0.2456)))];

    private readonly Random _random = new(seed);
    private readonly Guid _want = New(1, 1), _water = New(1, 2), _rain = New(1, 3);
    private long _position;

    public const string Zone = "UTC";

    public DateTimeOffset Now { get; } = new(s_lastDay.ToDateTime(new TimeOnly(12, 0)), TimeSpan.Zero);

    private int Weeks => years * 52;

    public IEnumerable<Fact> Facts()
    {
        var first = s_lastDay.AddDays(-7 * Weeks);
        yield return Fact(Guid.Empty, new BenchOpened("large bench", Zone), first);
        yield return Fact(_want, new WantSet(_want, new Want
        {
            Name = "all alike",
            FeedMgPerLitre = new Dictionary<Nutrient, Band> { [Nutrient.Calcium] = new(20, 40, 60) },
            TotalNitrogenMgPerLitre = new Band(40, 60, 90),
            EcMicrosiemensPerCm = new Band(400, 600, 800),
            RootPH = new Band(5.8, 6.2, 6.6),
            Source = "made up to measure with",
        }), first);
        yield return Fact(_water, new WaterSet(_water, "rain barrel", 200, 0), first);
        yield return Fact(_water, new WaterReported(
            _rain, _water, [new("EC", 20, "µS/cm")], WaterOrigin.Rain, 25, "pen",
            new WaterSource { Id = _water, Name = "rain barrel", MolPerKgWater = ComponentAmounts.From((Component.Calcium, 1e-4), (Component.Chloride, 2e-4)) }, 6.1, 20, 0.05, null), first);
        var places = Enumerable.Range(1, Math.Max(4, plants / 25)).Select(i => New(2, i)).ToList();
        for (var i = 0; i < places.Count; i++)
        {
            yield return Fact(places[i], new PlaceSet(new Place(places[i], $"shelf {i + 1}", i + 1, "bright", "warm")), first);
        }

        var all = Enumerable.Range(1, plants).Select(number => new Grown(number, _random)).ToList();
        foreach (var plant in all)
        {
            foreach (var payload in plant.Arrives(places[(plant.Number - 1) % places.Count], _want))
            {
                yield return Fact(plant.Id, payload, first);
            }
        }

        for (var week = 0; week < Weeks; week++)
        {
            foreach (var fact in Week(week, first.AddDays(7 * week), all, places))
            {
                yield return fact;
            }
        }
    }

    private IEnumerable<Fact> Week(int week, DateOnly monday, List<Grown> all, List<Guid> places)
    {
        // One can to some forty plants, as one mixes them.
        var cans = Enumerable.Range(0, (plants + 39) / 40).Select(i => New(3, week * 1000 + i)).ToList();
        foreach (var (can, i) in cans.Select((can, i) => (can, i)))
        {
            var card = Cards.Of(can, ((char)('A' + i % 26)).ToString(), all.Skip(i * 40).Take(40).Select(plant => (plant.Id, plant.Number)));
            yield return Fact(can, new CanSaved(card, []), monday);
            for (var step = 1; step <= card.Steps.Count; step++)
            {
                yield return Fact(can, new CanStepDone(can, step), monday);
            }

            yield return Fact(can, new CanRead(can, null, 580 + _random.Next(80), 5.6 + 0.1 * _random.Next(5), 20, null), monday);
        }

        var round = New(4, week);
        yield return Fact(round, new RoundBegun(round, monday), monday);
        foreach (var (plant, i) in all.Select((plant, i) => (plant, i)))
        {
            var walked = plant.OnTheRound(round, cans[i / 40], _water, _random);
            var told = Fact(plant.Id, walked, monday);
            yield return told;
            if (walked is PlantGiven { CanId: { } poured })
            {
                yield return Fact(plant.Id, new RootForecastBelieved(plant.Id, plant.Pot, poured, told.Id, "made up to measure with", "0123456789ab", s_believed, null), monday);
            }

            foreach (var payload in plant.Grows(_random, places))
            {
                yield return Fact(plant.Id, payload, monday.AddDays(1 + _random.Next(6)));
            }
        }

        yield return Fact(round, new RoundEnded(round, null), monday);
    }

    private Fact Fact(Guid subject, FactPayload payload, DateOnly day)
    {
        var (kind, version, json) = FactKinds.Write(payload);
        var minute = FormattableString.Invariant($"{day:yyyy-MM-dd}T09:00");
        return new Fact
        {
            Id = payload is CanSaved ? subject : New(5, ++_position),
            Position = _position,
            Kind = kind,
            Version = version,
            Payload = json,
            SubjectId = subject,
            Precision = WhenPrecision.Minute,
            Earliest = minute,
            Latest = minute,
            Zone = Zone,
            RecordedMicroseconds = (day.ToDateTime(new TimeOnly(9, 0)) - DateTime.UnixEpoch).Ticks / 10,
            Who = "grower",
            Device = "desk",
            Sequence = _position,
        };
    }

    /// <summary>Ids that sort as they were made, as those of version 7 do.</summary>
    internal static Guid New(int kind, long number) => new($"{0x0190_0000 + (int)(number >> 16):x8}-{(int)(number & 0xffff):x4}-7{kind:x3}-8000-{number:x12}");
}
