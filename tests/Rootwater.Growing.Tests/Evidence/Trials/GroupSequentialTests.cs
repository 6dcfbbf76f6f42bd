using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Trials;

namespace Rootwater.Growing.Tests.Evidence.Trials;

public sealed class GroupSequentialTests
{
    // Jennison and Turnbull, Group Sequential Methods (2000), tables 2.1 and 2.3, two-sided 0.05, printed to three decimals; from memory.
    [Theory]
    [InlineData(2, 2.178)]
    [InlineData(3, 2.289)]
    [InlineData(4, 2.361)]
    [InlineData(5, 2.413)]
    public void Pocock_boundaries_are_as_published(int looks, double constant) =>
        GroupSequential.Classical(looks, Spending.Pocock).ShouldAllBe(bound => Math.Abs(bound - constant) < 0.0006);

    [Theory]
    [InlineData(2, 1.977)]
    [InlineData(3, 2.004)]
    [InlineData(4, 2.024)]
    [InlineData(5, 2.040)]
    public void OBrien_Fleming_boundaries_are_as_published(int looks, double last)
    {
        var bounds = GroupSequential.Classical(looks, Spending.OBrienFleming);
        bounds[^1].ShouldBe(last, 0.0006);
        bounds[0].ShouldBe(last * Math.Sqrt(looks), 0.002);
    }

    // Lan and DeMets with the O'Brien–Fleming-like spending function, five equal looks, two-sided 0.05: 4.8769, 3.3569, 2.6803, 2.2898, 2.0310 (handbooks; from memory).
    [Fact]
    public void Spending_boundaries_are_as_published()
    {
        double[] printed = [4.8769, 3.3569, 2.6803, 2.2898, 2.0310];
        GroupSequential.Boundaries([0.2, 0.4, 0.6, 0.8, 1]).Zip(printed).ShouldAllBe(pair => Math.Abs(pair.First - pair.Second) < 0.0006);
    }

    [Fact]
    public void One_look_at_the_end_is_the_ordinary_test() => GroupSequential.Boundaries([1]).ShouldHaveSingleItem().ShouldBe(1.959964, 1e-5);

    [Fact]
    public void All_is_spent_at_the_end()
    {
        GroupSequential.Spent(1, Spending.OBrienFleming).ShouldBe(0.05, 1e-9);
        GroupSequential.Spent(1, Spending.Pocock).ShouldBe(0.05, 1e-9);
        GroupSequential.Spent(0.5, Spending.OBrienFleming).ShouldBeLessThan(GroupSequential.Spent(0.5, Spending.Pocock));
    }

    [Fact]
    public void Looks_out_of_order_are_refused_by_name() => Should.Throw<EvidenceInputException>(() => GroupSequential.Boundaries([0.5, 0.3])).Field.ShouldBe("looks");
}
