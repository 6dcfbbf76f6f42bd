using CsCheck;
using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Tests.Numbers;

/// <summary>A value that cannot be is caught where it is typed, with what it most likely means; what can be is kept in SI whatever the reader's units.</summary>
public sealed class MeasuredTests
{
    [Theory]
    [InlineData("EC", "830", "type 0.83")]
    [InlineData("EC", "-1", "0 or more")]
    [InlineData("pH", "64", "if the pen shows 6.4")]
    [InlineData("pH", "640", "if the pen shows 6.4")]
    [InlineData("pH", "-2", "between 0 and 14")]
    [InlineData("temperature", "68", "type 20")]
    [InlineData("temperature", "-40", "between -20 and 60")]
    [InlineData("humidity", "0,65", "type 65")]
    [InlineData("humidity", "110", "between 0 and 100")]
    [InlineData("PPFD", "8000", "under lux")]
    [InlineData("lux", "300000", "more than the sun")]
    public void What_cannot_be_is_refused_with_its_likely_meaning(string field, string typed, string offered)
    {
        var problem = Problem(new ReadersUnits(), field, typed);
        problem.Field.ShouldBe(field);
        problem.Value.ShouldBe(typed);
        problem.Accepted.ShouldContain(offered);
    }

    [Fact]
    public void A_millisiemens_reading_typed_on_a_ppm_scale_is_noticed() =>
        Problem(new ReadersUnits { Ec = EcScale.Ppm500 }, "EC", "0.83").Accepted.ShouldContain("type 415");

    [Fact]
    public void Every_field_is_named_not_only_the_first()
    {
        var read = new Measured(new ReadersUnits());
        read.Ec("salty");
        read.PH("15");
        read.Celsius("warm");
        Should.Throw<EntryException>(read.Check).Problems.Select(problem => problem.Field).ShouldBe(["EC", "pH", "temperature"]);
    }

    // Shown with the digits the pages show and typed back: within half a digit of what was kept, in every unit.
    [Fact]
    public void Shown_and_typed_back_is_what_was_kept_to_the_digit_shown() => Gen.Select(
        Gen.Double[0, 4000], Gen.Double[-5, 45], Gen.Enum<EcScale>(), Gen.Enum<TemperatureUnit>()).Sample((ec, celsius, scale, temperature) =>
    {
        var units = new ReadersUnits { Ec = scale, Temperature = temperature };
        var reader = new Reader(new FixturePlants());
        reader.Take(units);
        var read = new Measured(units);
        var shownEc = reader.Ec(ec);
        var halfDigit = scale == EcScale.MillisiemensPerCm ? 5.001 : 0.5001 / units.Ec.FromMicrosiemens(1);
        var keptEc = read.Ec(shownEc);
        var keptCelsius = read.Celsius(reader.Celsius(celsius));
        read.Check();
        return Math.Abs(keptEc!.Value - ec) <= halfDigit && Math.Abs(keptCelsius!.Value - celsius) <= 0.0501;
    });

    private static EntryProblem Problem(ReadersUnits units, string field, string typed)
    {
        var read = new Measured(units);
        _ = field switch
        {
            "EC" => read.Ec(typed),
            "pH" => read.PH(typed),
            "temperature" => read.Celsius(typed),
            "humidity" => read.Humidity(typed),
            "PPFD" => read.Ppfd(typed),
            _ => read.Lux(typed),
        };
        return Should.Throw<EntryException>(read.Check).Problems.ShouldHaveSingleItem();
    }
}
