using BenchmarkDotNet.Attributes;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Benchmarks;

/// <summary>500 pots in four media with 20,000 readings: first fit under 30 s, after one reading more under 2 s in all and 50 ms for the pot. Run it with <c>--strategy Monitoring --warmupCount 1 --iterationCount 3</c>.</summary>
public class PotFitBenchmark
{
    // A dry run only sees that each method runs.
    private static readonly int s_count = Environment.GetEnvironmentVariable(Scale.LargeBenchBenchmark.SmallVariable) is { Length: > 0 } ? 12 : 500;

    private List<PotHistory> _pots = null!;
    private PotCalibration _fitted = null!;
    private PotCalibration _alone = null!;
    private PotHistory _longer = null!;
    private GroupPourRequest _pour = null!;

    [GlobalSetup(Target = nameof(FirstFit))]
    public void Draw() => _pots = [.. Enumerable.Range(0, s_count).Select(Pot)];

    [GlobalSetup(Targets = [nameof(OneReadingMore), nameof(AllKnown)])]
    public void Fit()
    {
        Draw();
        var shorter = Shorten(_pots[s_count / 2]);
        _fitted = PotCalibration.Fit(_pots.Select(pot => pot.Id == shorter.Id ? shorter : pot));
    }

    // One pot needs no bench of five hundred: a dry run should not wait for one.
    [GlobalSetup(Target = nameof(OnePot))]
    public void FitOne() => _alone = PotCalibration.Fit([Shorten(Pot(s_count / 2))]);

    [GlobalSetup(Target = nameof(BestCan))]
    public void FitTen()
    {
        var ten = Enumerable.Range(0, 10).Select(Pot).ToList();
        var fitted = PotCalibration.Fit(ten);
        _pour = new GroupPourRequest
        {
            FeedMolPerKgWater = s_feed,
            Pots = [.. ten.Select(pot => new ServedPot { Setup = pot.Setup, Climate = pot.Climate, Before = fitted.Of(pot.Id).StateNow, Draws = fitted.Draws(pot, 6, 1), RootPH = new Band(5.8, 6.2, 6.6) })],
        };
    }

    // The record without its last visit; the whole one is what is then added.
    private PotHistory Shorten(PotHistory pot)
    {
        _longer = pot;
        var last = pot.Readings.Max(reading => reading.Hours);
        return pot with { Readings = [.. pot.Readings.Where(reading => reading.Hours < last)] };
    }

    [Benchmark(Description = "first fit, 500 pots, 20,000 readings")]
    public PotCalibration FirstFit() => PotCalibration.Fit(_pots);

    [Benchmark(Description = "one reading more among 500 pots, all moved along")]
    public PotCalibration OneReadingMore() => _fitted.With(_longer);

    [Benchmark(Description = "one reading more, one pot by itself")]
    public PotCalibration OnePot() => _alone.With(_longer);

    [Benchmark(Description = "what is known of every pot (500)")]
    public int AllKnown() => _fitted.Pots.Sum(pot => _fitted.Of(pot).Traits.Count);

    [Benchmark(Description = "best can for 10 pots, 21 ways of mixing, 3 leach intervals, 6 draws, 8 feeds")]
    public GroupPourAdvice BestCan() => PourSearch.Best(_pour);

    private static readonly ComponentAmounts s_feed = Feed(("Ca(NO3)2", 1.2), ("KNO3", 1.5), ("NH4NO3", 0.7), ("KH2PO4", 0.5), ("MgSO4", 0.7));
    private static readonly ComponentAmounts s_poured = PotInverse.AtPH(s_feed, 5.8).Poured;

    /// <summary>Six weeks of a pot whose traits differ from its sheet, read thirteen times and once more for its pH: 40 readings.</summary>
    private static PotHistory Pot(int number)
    {
        var random = new Random(number);
        double Factor(double sd) => Math.Exp(sd * (2 * random.NextDouble() - 1));
        var litres = 0.4 + 1.6 * random.NextDouble();
        var setup = new PotSetup
        {
            Id = new Guid(number + 1, 0, 0, [0, 0, 0, 0, 0, 0, 0, 0]),
            Medium = Media.All[number % Media.All.Count],
            MediumLitres = litres,
            ReservoirLitres = 0.4 * litres,
            Culture = Culture.Wicking,
            LeafAreaSquareMetres = 0.03 * litres,
        };
        var truth = new PotParameters { ExchangeFactor = Factor(0.7), WaterLossFactor = Factor(0.4), UptakeFactor = Factor(0.7), RestingPHShift = 0.4 * (2 * random.NextDouble() - 1), SaltFactor = Factor(0.5) };
        PotEvent[] events = [.. Enumerable.Range(1, 5).Select(week => new PotEvent(PotEventKind.Refill, week * 168, setup.ReservoirLitres + 0.5 * setup.HeldLitres, s_poured))];
        var run = PotSimulator.Run(truth, setup, new PotClimate(), PotState.FilledWith(setup, s_poured), events, 42 * 24, 24);
        var visits = run.Samples.Where(sample => !sample.AfterEvent && sample.Reservoir is not null && sample.Hours >= 24).ToList();
        var chosen = Enumerable.Range(0, 13).Select(i => visits[i * (visits.Count - 1) / 12]).ToList();
        var readings = chosen.SelectMany(sample => new[]
        {
            new PotReading(sample.Hours, ReadingKind.ReservoirEc, sample.Reservoir!.EcMicrosiemensPerCm * Factor(0.04)),
            new PotReading(sample.Hours, ReadingKind.ReservoirPH, sample.Reservoir.PH + 0.15 * (2 * random.NextDouble() - 1)),
            new PotReading(sample.Hours, ReadingKind.ReservoirLitres, Math.Clamp(sample.Reservoir.Water.Litres * Factor(0.05), 0, setup.ReservoirLitres)),
        }).Append(new PotReading(chosen[6].Hours, ReadingKind.MediumPH, chosen[6].Medium.PH));
        return new PotHistory { Setup = setup, Climate = new PotClimate(), Start = PotState.FilledWith(setup, s_poured), Events = events, Readings = [.. readings] };
    }

    private static ComponentAmounts Feed(params (string Formula, double MmolPerLitre)[] salts) =>
        salts.Aggregate(ComponentAmounts.Zero, (feed, salt) => feed.PlusScaled(Formula.Parse(salt.Formula).ComponentsPerMole, salt.MmolPerLitre / 1000));
}
