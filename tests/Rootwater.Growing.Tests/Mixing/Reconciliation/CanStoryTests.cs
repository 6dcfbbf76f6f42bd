using Rootwater.Growing.Mixing.Reconciliation;

namespace Rootwater.Growing.Tests.Mixing.Reconciliation;

/// <summary>The last can of a simulated history has one known thing wrong: how high does the truth stand among the explanations?</summary>
public sealed class CanStoryTests
{
    private const int Histories = 12, Weeks = 9;

    /// <summary>What was really wrong, how to do it, and which explanation says so.</summary>
    private static readonly Dictionary<string, (Func<CanWorkshop, int, CanRecord> Last, Func<Explanation, bool> Says)> s_wrong = new()
    {
        ["the magnesium nitrate has drawn water"] = (
            (bench, week) =>
            {
                bench.Strength(Kitchen.MagnesiumNitrate, 0.7);
                return bench.Mix(week);
            },
            each => each.Source is { Kind: ErrorSourceKind.LotStrength } source && source.Id == Kitchen.MagnesiumNitrate.Product.Id.ToString()),
        ["the can held 5.8 L"] = ((bench, week) => bench.Mix(week, filledTo: 5.8), each => each.What.Contains("L in place of 5.0 L", StringComparison.Ordinal)),
        ["the water changed"] = (
            (bench, week) =>
            {
                bench.TapStrength *= 1.9;
                return bench.Mix(week);
            },
            each => each.Source is { Kind: ErrorSourceKind.WaterStrength or ErrorSourceKind.WaterAlkalinity, Id: "tap" }),
        ["the EC pen reads 12 % low"] = (
            (bench, week) =>
            {
                bench.EcPen -= 0.12;
                return bench.Mix(week);
            },
            each => each.Source is { Kind: ErrorSourceKind.EcPen }),
        ["the calcium nitrate was left out"] = (
            (bench, week) => bench.Mix(week, leftOut: Kitchen.CalciumNitrate), each => each.What.EndsWith("calcium nitrate, tetrahydrate was left out.", StringComparison.Ordinal)),
    };

    public static TheoryData<string> Wrongs => [.. s_wrong.Keys];

    [Theory]
    [MemberData(nameof(Wrongs))]
    public void What_was_really_wrong_stands_among_the_first_explanations(string wrong)
    {
        var ranks = Enumerable.Range(0, Histories).Select(seed => RankOf(wrong, 300 + seed)).ToList();
        Tell(wrong, ranks);
        // Two readings cannot tell a weak lot, a full can, grains at the bottom and a slow pen apart for sure: the truth has to be among what is looked at.
        // How common each is was set by hand looking at seeds 100 to 111; these are others.
        ranks.Count(rank => rank is >= 1 and <= 4).ShouldBeGreaterThanOrEqualTo((int)(0.75 * Histories), string.Join(", ", ranks));
    }

    // The issue's own example: a can that should read 0.83 reads 0.71, and the last three cans said already that the magnesium nitrate is 8 % weak.
    [Fact]
    public void A_can_that_reads_14_percent_low_after_three_weak_ones_names_the_lot_the_volume_and_a_cheap_check_first()
    {
        var bench = new CanWorkshop(7);
        bench.Strength(Kitchen.MagnesiumNitrate, 1);
        var cans = Enumerable.Range(0, 9).Select(week => bench.Mix(week)).ToList();
        bench.Strength(Kitchen.MagnesiumNitrate, 0.92);
        cans.AddRange([bench.Mix(9), bench.Mix(10), bench.Mix(12)]);
        bench.Strength(Kitchen.MagnesiumNitrate, 0.92);
        var last = bench.Mix(13);
        var learned = Reconciler.Of(cans, [.. bench.Calibrate(0), .. bench.Calibrate(8)]);
        var expected = learned.Expect(last).EcByCard.Value;
        var judged = learned.With([last with { MeasuredEcMicrosiemensPerCm = Math.Round(expected * 0.71 / 0.83 / 10) * 10 }]).Cans[^1];
        foreach (var each in judged.Explanations)
        {
            TestContext.Current.TestOutputHelper!.WriteLine($"{each.Chance:0.00} {each.What} -> {each.Check} ({each.Minutes} min)");
        }

        judged.MeasuredEc!.Value.ShouldBeLessThan(judged.EcByCard.Low);
        judged.OutOfControl.ShouldBeTrue();
        // In order: the lot, of which earlier cans said so already, then the can that held more.
        var said = judged.Explanations.Select(each => each.What).ToList();
        said[0].ShouldStartWith("magnesium nitrate holds");
        said[0].ShouldContain("it has drawn water");
        said[0].ShouldContain("earlier cans lean that way");
        said[1].ShouldBe("The can held 5.8 L in place of 5.0 L.");
        judged.CheckFirst[0].Minutes.ShouldBeLessThanOrEqualTo(2);
        judged.CheckFirst.Select(each => each.ChancePerMinute).ShouldBeInOrder(SortDirection.Descending);
    }

    // Nothing is wrong but what always is: every lot, tool, water and pen off by a draw from its own spread, pens in their standards every two months.
    [Fact]
    public void With_nothing_wrong_few_cans_are_called_out_and_the_bands_hold()
    {
        var cans = Enumerable.Range(0, 10).SelectMany(seed => Quiet(500 + seed, 24)).ToList();
        var (outs, warned) = (cans.Count(can => can.OutOfControl), cans.Count(can => can.Warns));
        var (ec, ph) = (Inside(cans, can => can.MeasuredEc, can => can.EcAsLearned), Inside(cans, can => can.MeasuredPH, can => can.PHAsLearned));
        TestContext.Current.TestOutputHelper!.WriteLine($"{cans.Count} quiet cans: {outs} called out ({100.0 * outs / cans.Count:0.0} %), {warned} warned ({100.0 * warned / cans.Count:0.0} %); inside their 95 % band: EC {ec:0.0 %}, pH {ph:0.0 %}");
        outs.ShouldBeLessThanOrEqualTo((int)(0.03 * cans.Count));
        ec.ShouldBeInRange(0.91, 0.995);
        ph.ShouldBeInRange(0.91, 0.995);
    }

    internal static IEnumerable<CanJudgement> Quiet(int seed, int weeks)
    {
        var bench = new CanWorkshop(seed);
        var calibrations = Enumerable.Range(0, weeks / 8 + 1).SelectMany(i => bench.Calibrate(8 * i)).ToList();
        return Reconciler.Of([.. Enumerable.Range(0, weeks).Select(week => bench.Mix(week))], calibrations).Cans;
    }

    internal static double Inside(IReadOnlyList<CanJudgement> cans, Func<CanJudgement, double?> read, Func<CanJudgement, Expected> band) =>
        cans.Average(can => read(can) >= band(can).Low && read(can) <= band(can).High ? 1.0 : 0);

    internal static IEnumerable<string> AllWrongs => s_wrong.Keys;

    internal static int RankOf(string wrong, int seed)
    {
        var bench = new CanWorkshop(seed);
        var calibrations = bench.Calibrate(0).Concat(bench.Calibrate(6)).ToList();
        var cans = Enumerable.Range(0, Weeks).Select(week => bench.Mix(week)).ToList();
        // A week in which every salt goes in.
        var judged = Reconciler.Of([.. cans, s_wrong[wrong].Last(bench, 12)], calibrations).Cans[^1];
        return 1 + judged.Explanations.TakeWhile(each => !s_wrong[wrong].Says(each)).Count() is var rank && rank <= judged.Explanations.Count ? rank : 0;
    }

    /// <summary>What, once wrong, stays wrong.</summary>
    internal static IEnumerable<string> Staying => s_wrong.Keys.Where(wrong => wrong is not ("the can held 5.8 L" or "the calcium nitrate was left out"));

    /// <summary>Something goes wrong and stays so for some weekly cans, of which every third does without the magnesium nitrate. Where it then stands among what the cans have taught, furthest from nothing in its own uncertainty first, and whether it is told.</summary>
    internal static (int Rank, bool Told) Taught(string wrong, int seed, int cans)
    {
        var bench = new CanWorkshop(seed);
        var calibrations = bench.Calibrate(0).Concat(bench.Calibrate(6)).ToList();
        var records = Enumerable.Range(0, Weeks).Select(week => bench.Mix(week)).ToList();
        records.Add(s_wrong[wrong].Last(bench, 12));
        records.AddRange(Enumerable.Range(13, cans - 1).Select(week => bench.Mix(week)));
        var taught = Reconciler.Of(records, calibrations).Corrections.OrderByDescending(each => Math.Abs(each.Value.Value) / (each.Value.High - each.Value.Low)).ToList();
        var rank = 1 + taught.FindIndex(each => s_wrong[wrong].Says(new Explanation("", 0, "", 1, each.Source)));
        return (rank, rank > 0 && taught[rank - 1].IsTold);
    }

    [Fact]
    public void A_pen_that_stood_in_its_standard_the_day_before_is_the_last_to_be_suspected()
    {
        double Chance(int lastStandard) => Enumerable.Range(400, Histories).Sum(seed =>
        {
            var bench = new CanWorkshop(seed);
            var cans = Enumerable.Range(0, Weeks).Select(week => bench.Mix(week)).ToList();
            var calibrations = bench.Calibrate(0).Concat(bench.Calibrate(lastStandard)).ToList();
            return Reconciler.Of([.. cans, bench.Mix(12, filledTo: 5.9)], calibrations).Cans[^1].Explanations.Where(each => each.Source?.Kind == ErrorSourceKind.EcPen).Sum(each => each.Chance);
        });

        Chance(12).ShouldBeLessThan(0.4 * Chance(6));
    }

    internal static IEnumerable<string> Slips => s_wrong.Keys.Except(Staying);

    /// <summary>A slip, then three sound cans: how many corrections are told, how many would be without it, and the largest share by which a lot, water or pen is then believed to be off beside the truth.</summary>
    internal static (int Told, int Without, double Share) LeftBehind(string slip, int seed)
    {
        Reconciler After(bool slipped)
        {
            var bench = new CanWorkshop(seed);
            var calibrations = bench.Calibrate(0).Concat(bench.Calibrate(6)).ToList();
            var records = Enumerable.Range(0, Weeks).Select(week => bench.Mix(week)).ToList();
            records.Add(slipped ? s_wrong[slip].Last(bench, 12) : bench.Mix(12));
            records.AddRange(Enumerable.Range(13, 3).Select(week => bench.Mix(week)));
            return Reconciler.Of(records, calibrations);
        }

        var (after, without) = (After(true), After(false));
        static bool IsShare(Correction each) => each.Source.Kind is ErrorSourceKind.LotStrength or ErrorSourceKind.WaterStrength or ErrorSourceKind.EcPen;
        return (after.Corrections.Count(each => each.IsTold), without.Corrections.Count(each => each.IsTold), after.Corrections.Where(IsShare).Max(each => Math.Abs(each.Value.Value - without[each.Source.Kind, each.Source.Id]!.Value.Value)));
    }

    [Theory]
    [InlineData("the magnesium nitrate has drawn water")]
    [InlineData("the EC pen reads 12 % low")]
    public void After_three_cans_what_is_wrong_stands_first_among_what_the_cans_have_taught(string wrong)
    {
        var first = Enumerable.Range(400, Histories).Count(seed => Taught(wrong, seed, 3).Rank == 1);
        TestContext.Current.TestOutputHelper!.WriteLine($"{wrong}: first in {first} of {Histories}");
        first.ShouldBeGreaterThanOrEqualTo((int)(0.6 * Histories));
    }

    internal static void Tell(string wrong, IReadOnlyList<int> ranks) => TestContext.Current.TestOutputHelper!.WriteLine(
        $"{wrong}: first in {ranks.Count(rank => rank == 1)}, among the first three in {ranks.Count(rank => rank is >= 1 and <= 3)}, four in {ranks.Count(rank => rank is >= 1 and <= 4)} of {ranks.Count}; not noticed or not named in {ranks.Count(rank => rank == 0)}");
}
