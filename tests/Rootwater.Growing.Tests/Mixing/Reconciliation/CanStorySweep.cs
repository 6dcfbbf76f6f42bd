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
}
