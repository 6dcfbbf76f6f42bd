using Rootwater.Growing.Climate;

namespace Rootwater.Growing.Tests.Climate;

public sealed class DayLengthTests
{
    [Fact]
    public void The_day_is_as_long_as_in_the_example() =>
        // FAO-56, example 9, from memory: 20° S on 3 September, 11.7 hours of daylight.
        DayLength.Hours(-20, 246).ShouldBe(11.7, 0.05);

    [Theory]
    [InlineData(70, 172, 24)]
    [InlineData(70, 355, 0)]
    [InlineData(0, 172, 12)]
    public void Beyond_the_polar_circle_the_sun_stays_up_or_down(double latitude, int day, double hours) => DayLength.Hours(latitude, day).ShouldBe(hours, 0.001);
}
