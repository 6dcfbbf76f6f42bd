namespace Rootwater.Growing.Tests.Mixing.Reconciliation;

/// <summary>The figures of docs/science/reconciliation.md over many histories; minutes long, so run by name only.</summary>
[Trait("Length", "sweep")]
public sealed class CanStorySweep
{
    [Fact]
    public void False_alarms_and_coverage_over_many_quiet_histories()
    {
        var cans = Enumerable.Range(1000, 100).AsParallel().SelectMany(seed => CanStoryTests.Quiet(seed, 24)).ToList();
        var (ec, ph) = (CanStoryTests.Inside(cans, can => can.MeasuredEc, can => can.EcAsLearned), CanStoryTests.Inside(cans, can => can.MeasuredPH, can => can.PHAsLearned));
        TestContext.Current.TestOutputHelper!.WriteLine($"{cans.Count} quiet cans: {cans.Count(can => can.OutOfControl)} called out, {cans.Count(can => can.Warns)} warned; inside: EC {ec:0.0000}, pH {ph:0.0000}");
        cans.Count(can => can.OutOfControl).ShouldBeLessThan((int)(0.02 * cans.Count));
    }

    [Fact]
    public void Ranks_of_the_truth_over_many_histories()
    {
        foreach (var wrong in CanStoryTests.AllWrongs)
        {
            var ranks = Enumerable.Range(2000, 100).AsParallel().Select(seed => CanStoryTests.RankOf(wrong, seed)).ToList();
            CanStoryTests.Tell(wrong, ranks);
            ranks.Count(rank => rank is >= 1 and <= 4).ShouldBeGreaterThan(60);
        }
    }

    // What stays wrong from one can on: the third and the fifth can know more than the first.
    [Fact]
    public void Ranks_of_the_truth_by_the_number_of_cans_that_saw_it()
    {
        foreach (var wrong in CanStoryTests.Staying)
        {
            foreach (var seen in new[] { 1, 3, 5, 8 })
            {
                var all = Enumerable.Range(2000, 100).AsParallel().Select(seed => CanStoryTests.Taught(wrong, seed, seen)).ToList();
                TestContext.Current.TestOutputHelper!.WriteLine($"{wrong}, {seen} cans: first in {all.Count(each => each.Rank == 1)}, among the first three in {all.Count(each => each.Rank is >= 1 and <= 3)} of {all.Count}; told in {all.Count(each => each.Told)}");
                if (seen == 3)
                {
                    all.Count(each => each.Rank == 1).ShouldBeGreaterThan(wrong == "the water changed" ? 40 : 70, wrong);
                }
            }
        }
    }

    // A slip is over with its can: what it opened has to close again.
    [Fact]
    public void What_a_slip_of_one_can_leaves_behind_after_three_sound_ones()
    {
        foreach (var slip in CanStoryTests.Slips)
        {
            var all = Enumerable.Range(2000, 100).AsParallel().Select(seed => CanStoryTests.LeftBehind(slip, seed)).ToList();
            TestContext.Current.TestOutputHelper!.WriteLine($"{slip}: something is told in {all.Count(each => each.Told > 0)} of {all.Count}, {all.Average(each => each.Told):0.00} a history; had it not happened {all.Average(each => each.Without):0.00}; furthest wrong by {all.Average(each => each.Share):0.0 %} on average");
            all.Average(each => each.Told).ShouldBeLessThan(all.Average(each => each.Without) + 0.5);
        }
    }
}
