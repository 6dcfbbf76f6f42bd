using BenchmarkDotNet.Attributes;
using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Pots;

namespace Rootwater.Benchmarks;

/// <summary>A root forecast of 14 days with its bands (nine runs of the pot), a top-up on day 7: to be under 5 ms.</summary>
[MemoryDiagnoser]
public class PotForecastBenchmark
{
    private PotForecastRequest _macro = null!;
    private PotForecastRequest _micro = null!;
    private PourRequest _pour = null!;

    [GlobalSetup]
    public void Setup()
    {
        var feed = Feed(("Ca(NO3)2", 1.2), ("KNO3", 1.5), ("NH4NO3", 0.7), ("KH2PO4", 0.5), ("MgSO4", 0.7));
        var traces = Feed(("NaFeEDTA", 0.02), ("MnSO4", 0.005), ("ZnSO4", 0.001), ("CuSO4", 0.0003), ("H3BO3", 0.02), ("Na2MoO4", 0.0002));
        _macro = Request(PotInverse.AtPH(feed, 5.8).Poured);
        _micro = Request(PotInverse.AtPH(feed.Plus(traces), 5.8).Poured);
        _pour = new PourRequest { Setup = _macro.Setup, Climate = _macro.Climate, FeedMolPerKgWater = feed, RootPH = _macro.RootPH };
    }

    [Benchmark(Description = "14 days, macronutrients")]
    public PotForecast Macronutrients() => PotForecaster.Run(_macro);

    [Benchmark(Description = "14 days, with micronutrients and EDTA")]
    public PotForecast Micronutrients() => PotForecaster.Run(_micro);

    [Benchmark(Description = "best pour for 7 days, three strengths")]
    public PourAdvice BestPour() => PotInverse.BestPour(_pour);

    private static PotForecastRequest Request(ComponentAmounts feed)
    {
        var setup = new PotSetup { Id = Guid.Empty, Medium = Media.Default, MediumLitres = 1, ReservoirLitres = 0.35, Culture = Culture.Wicking, LeafAreaSquareMetres = 0.03 };
        return new PotForecastRequest
        {
            Setup = setup,
            Climate = new PotClimate(),
            Start = PotState.FilledWith(setup, feed),
            Events = [new PotEvent(PotEventKind.TopUp, 7 * 24, 0.1, feed)],
            Days = 14,
            RootPH = new Band(6, 6.3, 6.6),
        };
    }

    private static ComponentAmounts Feed(params (string Formula, double MmolPerLitre)[] salts)
    {
        var feed = ComponentAmounts.Zero;
        foreach (var (formula, mmol) in salts)
        {
            feed = feed.PlusScaled(Formula.Parse(formula).ComponentsPerMole, mmol / 1000);
        }

        return feed;
    }
}
