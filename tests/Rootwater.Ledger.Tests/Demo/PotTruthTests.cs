using Microsoft.Extensions.Time.Testing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Demo.SixYears;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>
/// What the fit makes of the six-year demo against what the demo truly did. The demo's pots are richer than the model (three compartments, algae, nitrification, uptake by warmth
/// and light), so no trait has a true value; what a pot does to a feed has one: the demo's own arithmetic for the pH at the root two days after a refill.
/// </summary>
/// <remarks>Explicit: the demo, a fit and a fit without the last visits are a minute of work. Run with -explicit only; docs/science/calibration.md has the figures.</remarks>
public sealed class PotTruthTests(ITestOutputHelper output)
{
    private const int Seed = 36;

    [Fact(Explicit = true)]
    [Trait("Length", "sweep")]
    public async Task What_the_demos_pots_do_to_a_feed_is_found_again()
    {
        var cancel = TestContext.Current.CancellationToken;
        var folder = Directory.CreateTempSubdirectory("rootwater-truth-").FullName;
        try
        {
            var today = SixYearsTold.Today;
            var scenario = new SixYearScenario(today, Seed);
            foreach (var _ in scenario.Facts())
            {
            }

            var clock = new FakeTimeProvider(new DateTimeOffset(today.ToDateTime(new TimeOnly(10, 0)), TimeSpan.Zero));
            await using var desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(folder, "bench.db") }, demo: true, clock: clock, story: DemoStory.SixYears, cancel: cancel);
            await desks.Learning.RefreshAsync(cancel: cancel);
            var learned = desks.Database.Learned.ShouldNotBeNull();
            output.WriteLine($"widening {learned.Widening}; held back: {(await desks.Learning.ListAsync(cancel)).Score.HeldBack?.Words}");

            var feed = PotModels.NominalFeed(DefaultWants.All[0].Want);
            var (poured, _) = PotInverse.AtPH(feed, 5.8);
            var found = learned.Records.Values.Where(record => record.History is not null).Select(record =>
            {
                var lift = learned.Fit.LiftOf(record.History!, feed, 5.8, 2, null, learned.Widening.PH);
                var sheet = Growing.Pots.Calibration.PotCalibration.Empty.LiftOf(record.History! with { Readings = [] }, feed, 5.8, 2);
                return (record, lift.AtRoot, Sheet: sheet.AtRoot.Value, Truth: scenario.RootPHAfterRefill(record.Plant.Number, poured, 2)!.Value);
            }).ToList();
            foreach (var medium in found.GroupBy(one => $"{one.record.Pot.Medium}, {one.record.Pot.Culture}"))
            {
                output.WriteLine(FormattableString.Invariant(
                    $"{medium.Key}: {medium.Count(one => one.Truth >= one.AtRoot.Low && one.Truth <= one.AtRoot.High)} of {medium.Count()} inside; mean off {medium.Average(one => one.AtRoot.Value - one.Truth):+0.00;-0.00}, mean absolute {medium.Average(one => Math.Abs(one.AtRoot.Value - one.Truth)):0.00}, data sheet's {medium.Average(one => Math.Abs(one.Sheet - one.Truth)):0.00}; truth {medium.Min(one => one.Truth):0.0} to {medium.Max(one => one.Truth):0.0}"));
            }

            // Nearer than what the data sheet would have said, and the bands hold the truth more often than not.
            found.Average(one => Math.Abs(one.AtRoot.Value - one.Truth)).ShouldBeLessThan(found.Average(one => Math.Abs(one.Sheet - one.Truth)));
            found.Count(one => one.Truth >= one.AtRoot.Low && one.Truth <= one.AtRoot.High).ShouldBeGreaterThan(found.Count / 2);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
