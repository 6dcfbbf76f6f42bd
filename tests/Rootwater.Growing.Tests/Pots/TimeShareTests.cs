using Rootwater.Growing.Pots;

namespace Rootwater.Growing.Tests.Pots;

public sealed class TimeShareTests
{
    private static readonly Band s_window = new(6, 6.3, 6.6);

    [Fact]
    public void A_straight_rise_through_the_window_counts_the_part_inside() =>
        TimeShare.Inside([0, 10], [5.6, 6.6], s_window).ShouldBe(0.6, 1e-12);

    [Fact]
    public void A_level_inside_counts_whole_and_outside_not_at_all()
    {
        TimeShare.Inside([0, 5, 10], [6.2, 6.2, 6.2], s_window).ShouldBe(1);
        TimeShare.Inside([0, 5, 10], [5.2, 5.2, 5.2], s_window).ShouldBe(0);
    }

    [Fact]
    public void Of_a_band_the_share_is_that_of_its_middle_with_the_least_and_the_most_of_any_line_in_it()
    {
        // The middle is above the window, the low edge below it: a line between is inside all the time.
        TimeShare.Inside([0, 10], [new Expected(5.5, 6.7, 7), new Expected(5.5, 6.7, 7)], s_window).ShouldBe(new Expected(0, 0, 1));
        TimeShare.Inside([0, 10], [new Expected(6.2, 6.3, 6.4), new Expected(6.2, 6.3, 6.4)], s_window).ShouldBe(new Expected(1, 1, 1));
    }

    [Fact]
    public void A_jump_takes_no_time() =>
        TimeShare.Inside([0, 5, 5, 10], [6.2, 6.2, 5, 5], s_window).ShouldBe(0.5, 1e-12);
}
