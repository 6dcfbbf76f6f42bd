using System.Diagnostics;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Growing.Tests.Pots.Calibration;

/// <summary>
/// The whole table of docs/science/calibration.md: 500 pots for each of four media, with the fitted model and with a richer one. Minutes long, so only when asked:
/// <c>ROOTWATER_SWEEP_POTS=500 nice tests/Rootwater.Growing.Tests/bin/Release/net10.0/Rootwater.Growing.Tests -explicit only -class '*CoverageSweep' -showLiveOutput</c>.
/// </summary>
[Trait("Length", "sweep")]
public sealed class CoverageSweep(ITestOutputHelper output)
{
    private static int Seed => int.TryParse(Environment.GetEnvironmentVariable("ROOTWATER_SWEEP_SEED"), out var seed) ? seed : 0;

    private static int Pots => int.TryParse(Environment.GetEnvironmentVariable("ROOTWATER_SWEEP_POTS"), out var pots) ? pots : 100;

    /// <summary>1: algae in the reservoirs besides, as the ledger takes them to be.</summary>
    private static bool InTheLight => Environment.GetEnvironmentVariable("ROOTWATER_SWEEP_LIGHT") == "1";

    private const int PotsOnABench = 50;

    [Theory(Explicit = true)]
    [InlineData(false)]
    [InlineData(true)]
    public void Coverage_and_gain_per_medium(bool richer)
    {
        var clock = Stopwatch.StartNew();
        var (pooled, single) = (Media.All.ToDictionary(medium => medium, _ => new Coverage()), Media.All.ToDictionary(medium => medium, _ => new Coverage()));
        var (changes, runs, readings, fits) = (0, 0.0, 0, 0);
        for (var bench = 0; bench < Math.Max(1, Pots / PotsOnABench); bench++)
        {
            // Media of their own on every bench: how far a medium is off its data sheet is one draw for all of a bench's pots.
            var media = Media.All.Index().ToDictionary(pair => pair.Item, pair => TrueBench.Draw(pair.Item, PotsOnABench, 1000 * (bench + 1) + 100 * Seed + pair.Index, richer, inTheLight: InTheLight));
            var histories = media.Values.SelectMany(pots => pots.Select(pot => pot.History)).ToList();
            readings += histories.Sum(pot => pot.Readings.Count);
            var together = PotCalibration.Fit(histories, cancellation: TestContext.Current.CancellationToken);
            var apart = PotCalibration.Fit(histories, pooling: false, cancellation: TestContext.Current.CancellationToken);
            foreach (var (medium, pots) in media)
            {
                pooled[medium].Add(together, pots);
                single[medium].Add(apart, pots);
                changes += pots.Count(pot => together.Of(pot.History.Id).Changes.Count > 0);
                runs += pots.Sum(pot => together.FitOf(pot.History.Id)!.Runs);
                fits += pots.Count;
            }
        }

        output.WriteLine($"richer {richer}: {fits} pots, {readings} readings, {clock.Elapsed.TotalSeconds:0} s in all, {runs / fits:0.0} runs a pot, changes seen (there are none) in {changes}");
        foreach (var medium in Media.All)
        {
            output.WriteLine($"{medium.Id}, pooled");
            output.WriteLine(pooled[medium].ToString());
            output.WriteLine($"{medium.Id}, each by itself");
            output.WriteLine(single[medium].ToString());
        }
    }

    /// <summary>Laplace alone: every pot drawn from the very prior it is fitted under.</summary>
    [Fact(Explicit = true)]
    public void Intervals_of_single_pots_under_their_own_prior()
    {
        foreach (var (index, medium) in Media.All.Index())
        {
            var random = new Random(77 + index);
            var pots = Enumerable.Range(0, Pots).Select(i => TrueBench.Pot(medium, new Truth
            {
                Theta = [.. Enumerable.Range(0, PotTraits.Count).Select(k => PotTraits.SheetSd(k) * TrueBench.Normal(random))],
                Seed = 5000 * (index + 1) + i,
            }, outliers: 0.02)).ToList();
            var fit = PotCalibration.Fit(pots.Select(pot => pot.History), pooling: false, cancellation: TestContext.Current.CancellationToken);
            output.WriteLine(medium.Id);
            output.WriteLine(Coverage.Of(fit, pots).ToString());
        }
    }
}
