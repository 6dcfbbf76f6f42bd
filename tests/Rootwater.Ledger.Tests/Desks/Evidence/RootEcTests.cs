using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Tests.Desks.Evidence;

public sealed class RootEcTests
{
    private static readonly DateOnly s_first = new(2024, 1, 1);
    private static readonly Guid s_plant = new("00000000-0000-7000-8000-000000000001");

    private static EcRead Read(int day, double ec, bool ofMedium = true) => new(s_first.AddDays(day), Math.Log(ec), ofMedium);

    private static RootEc Of(IEnumerable<EcRead> reads, params int[] breaks) =>
        new(new Dictionary<Guid, EcRead[]> { [s_plant] = [.. reads.OrderBy(read => read.Day)] }, new() { [s_plant] = [.. breaks.Select(day => s_first.AddDays(day))] });

    private static (double Ec, double Spread) On(RootEc root, int day) =>
        root.On(s_plant, s_first.AddDays(day)) is { } state ? (Math.Exp(state.Mean), Math.Sqrt(state.Variance)) : throw new InvalidOperationException("nothing can be said");

    [Fact]
    public void Between_two_readings_it_lies_between_them_and_least_surely_half_way()
    {
        var root = Of([Read(0, 500), Read(30, 2000)]);

        On(root, 0).Ec.ShouldBeInRange(480, 560);
        On(root, 15).Ec.ShouldBe(1000, 1, "the mean of the logarithms");
        On(root, 15).Spread.ShouldBeGreaterThan(On(root, 3).Spread);
        root.ChanceAbove(s_plant, s_first.AddDays(15), 1000)!.Value.ShouldBe(0.5, 1e-3);
        root.ChanceAbove(s_plant, s_first.AddDays(30), 1000)!.Value.ShouldBeGreaterThan(root.ChanceAbove(s_plant, s_first.AddDays(20), 1000)!.Value);
    }

    [Fact]
    public void A_leach_ends_what_was_read_before_it()
    {
        // Months of steady readings say how little EC walks by itself; the leaches how far they throw it.
        var reads = Enumerable.Range(0, 6).SelectMany(k => new[] { Read(60 * k, 2000), Read(60 * k + 20, 2050), Read(60 * k + 30, 500), Read(60 * k + 50, 520) });
        var root = Of(reads, [.. Enumerable.Range(0, 12).Select(k => k % 2 == 0 ? 30 * k + 25 : 30 * k + 28)]);

        On(root, 24).Ec.ShouldBeGreaterThan(1500);
        On(root, 27).Ec.ShouldBeLessThan(900);
    }

    [Fact]
    public void A_reservoir_is_read_on_the_scale_of_the_medium_by_how_the_two_were_to_each_other()
    {
        // The medium stood at twice the reservoir whenever both were read.
        var together = Enumerable.Range(0, 10).SelectMany(k => new[] { Read(30 * k, 800 + 20 * k, ofMedium: false), Read(30 * k, 2 * (800 + 20 * k)) });
        var root = Of([.. together, Read(400, 900, ofMedium: false)]);

        On(root, 400).Ec.ShouldBeInRange(1500, 1900);
        On(Of([Read(400, 900, ofMedium: false)]), 400).Ec.ShouldBe(900, 1, "never read together it has to do as it is");
    }

    [Fact]
    public void Far_from_any_reading_nothing_is_said()
    {
        var root = Of([Read(0, 800), Read(30, 1000)]);

        root.On(s_plant, s_first.AddDays(900)).ShouldBeNull();
        root.ChanceAbove(s_plant, s_first.AddDays(900), 1500).ShouldBeNull();
        root.MeanLog(s_plant, s_first.AddDays(900), 60).ShouldBeNull();
        root.On(Guid.NewGuid(), s_first).ShouldBeNull();
        root.MeanLog(s_plant, s_first.AddDays(30), 30)!.Value.ShouldBeInRange(Math.Log(800), Math.Log(1000));
    }
}
