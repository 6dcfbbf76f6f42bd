using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Demo;

/// <summary>What the evidence desk finds in the six years.</summary>
public sealed class SixYearsAskedTests(SixYearsBench bench) : IClassFixture<SixYearsBench>
{
    private IEvidenceDesk Desk => bench.Desks.Evidence;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Look()
    {
        var all = new PlantGroup();
        var print = TestContext.Current.TestOutputHelper!;
        var clock = System.Diagnostics.Stopwatch.StartNew();
        void Lap(string what) { print.WriteLine($"== {what}: {clock.ElapsedMilliseconds} ms"); clock.Restart(); }
        foreach (var change in await Desk.FeedChangesAsync(all, Cancel)) print.WriteLine(change.ToString());
        Lap("changes");
        var lives = await Desk.LivesAsync(new EvidenceQuestion(all), Cancel);
        Lap("lives");
        print.WriteLine($"{lives.Who} since {lives.Since}: {lives.Words} p {lives.Verdict?.P}");
        foreach (var each in lives.AlsoMoved) print.WriteLine(each.ToString());
        foreach (var each in lives.Curves) print.WriteLine($"{each.Name} {each.Lives} {each.Lost} {each.MedianDays} {string.Join(" ", each.Says)}");
        foreach (var each in lives.Says) print.WriteLine(each);
        var drivers = await Desk.DriversAsync(new EvidenceQuestion(all), Cancel);
        Lap("drivers");
        print.WriteLine(drivers.Words + drivers.Basis.Events);
        foreach (var each in drivers.Drivers) print.WriteLine($"{each.Name}: {each.HazardRatio:0.00} ({each.Lower:0.00}-{each.Upper:0.00}) p {each.P:0.0000} adj {each.PAdjusted:0.0000} ph {each.ProportionalP:0.00} {each.Strength}");
        foreach (var each in drivers.Says) print.WriteLine(each);
        var rates = await Desk.RatesAsync(new EvidenceQuestion(all), Cancel);
        Lap("rates");
        print.WriteLine(rates.Words);
        foreach (var each in rates.Rates) print.WriteLine(each.Words);
        foreach (var number in new[] { 1, 5, 12, 20, 30 }) { var next = await Desk.NextLeafAsync(number, Cancel); print.WriteLine(next.Who + ": " + next.Words + " | " + string.Join(" ", next.Says)); }
        Lap("next");
        foreach (var of in Enum.GetValues<SeriesOf>()) { var series = await Desk.SeriesAsync(new SeriesQuestion(all, of, lives.Since), Cancel); print.WriteLine($"{of}: {series.Words}"); }
        Lap("series");
        var sisters = await Desk.SistersAsync(new EvidenceQuestion(all), Cancel);
        print.WriteLine(sisters.Words);
        var kinds = await Desk.KindsAsync(lives.Since!.Value, Cancel);
        print.WriteLine(kinds.Words);
        foreach (var kind in kinds.Kinds) print.WriteLine($"{kind.Kind}: {kind.Verdict.P:0.000} adj {kind.PAdjusted:0.000} {kind.Verdict.Words}");
        Lap("kinds");
        foreach (var of in new[] { LivesOf.Growths, LivesOf.Plants, LivesOf.Blooms }) { var other = await Desk.LivesAsync(new EvidenceQuestion(all, null, of), Cancel); print.WriteLine($"{of}: {other.Words}"); }
    }
}
