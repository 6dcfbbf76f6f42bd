using CsCheck;
using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Web.Components.Mixing;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Tests;

public sealed class NumbersTests
{
    [Theory]
    [InlineData(3e-7, "< 0.0001")]
    [InlineData(0.0099, "0.0099")]
    [InlineData(0.0501, "0.050")]
    [InlineData(null, "–")]
    public void A_probability_is_never_shown_as_a_bare_zero(double? p, string shown) => Show.PValue(p).ShouldBe(shown);

    [Theory]
    [InlineData("0,83", 0.83)]
    [InlineData("0.83", 0.83)]
    [InlineData(" 5,8 ", 5.8)]
    [InlineData("12", 12)]
    [InlineData(",5", 0.5)]
    [InlineData("-3", -3)]
    public void A_comma_or_a_point_is_read(string typed, double value)
    {
        Entry.TryRead(typed, out var read).ShouldBeTrue();
        read.ShouldBe(value);
    }

    [Theory]
    [InlineData("")]
    [InlineData("1,234.5")]
    [InlineData("1.2.3")]
    [InlineData("abc")]
    [InlineData("1e3")]
    [InlineData("NaN")]
    [InlineData("∞")]
    public void What_could_mean_two_numbers_or_none_is_not_read(string typed) => Entry.TryRead(typed, out _).ShouldBeFalse();

    [Fact]
    public void What_is_shown_reads_back_to_what_was_shown() => Gen.Double[0, 20_000].Sample(ec =>
    {
        Entry.TryRead(Show.Ec(ec), out var milli).ShouldBeTrue();
        milli.ShouldBe(ec / 1000, 0.005001); // Two decimals are shown.
    });

    [Fact]
    public void Both_pens_that_are_wrong_are_both_named()
    {
        var wrong = Should.Throw<EntryException>(() => Reading.Both(new ReadersUnits(), "salty", "15"));
        wrong.Problems.Select(problem => problem.Field).ShouldBe(["EC", "pH"]);
        wrong.Problems.Select(problem => problem.Value).ShouldBe(["salty", "15"]);
    }

    [Fact]
    public void A_narrow_band_is_shown_with_two_decimals_so_that_its_ends_differ()
    {
        Show.PHBand(new Expected(5.76, 5.8, 5.84)).ShouldBe("5.76 to 5.84");
        Show.PHBand(new Expected(5.6, 5.8, 6.0)).ShouldBe("5.6 to 6.0");
    }
}
