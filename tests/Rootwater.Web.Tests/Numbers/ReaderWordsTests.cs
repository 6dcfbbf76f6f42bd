using Rootwater.Growing;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Tests.Numbers;

/// <summary>Sentences of the desks, which speak in mS/cm, °C and litres, on the pages of a reader with other units.</summary>
public sealed class ReaderWordsTests
{
    private static readonly Reader s_reader = new(null!);

    private static string Told(string sentence, ReadersUnits units)
    {
        s_reader.Take(units);
        return s_reader.Words(sentence);
    }

    // 1 mS/cm is 500 ppm on the 0.5 scale and 700 on the 0.7 scale by their definitions; 10 °C = 50 °F, 15 °C = 59 °F, −5 °C = 23 °F; 1 US gallon = 3.785 L.
    [Theory]
    [InlineData("EC creeping: read 1.6 mS/cm on 3 March, leached from 1.5 mS/cm.", "EC creeping: read 800 ppm (0.5 scale) on 3 March, leached from 750 ppm (0.5 scale).")]
    [InlineData("EC at the root is reckoned at 1.6 (1.3 to 1.9) mS/cm", "EC at the root is reckoned at 800 (650 to 950) ppm (0.5 scale)")]
    [InlineData("12 days of 10 to 15 °C so far, of 40", "12 days of 50 to 59 °F so far, of 40")]
    [InlineData("nights down to -5 °C", "nights down to 23 °F")]
    [InlineData("Since 2021 it got 7.57 L of feed", "Since 2021 it got 2 US gal of feed")]
    [InlineData("120 mg/L of N, 250 mL, pH 6.4, 3 days", "120 mg/L of N, 250 mL, pH 6.4, 3 days")]
    public void Amounts_are_in_the_readers_units_and_all_else_stays(string sentence, string told) =>
        Told(sentence, new ReadersUnits { Ec = EcScale.Ppm500, Temperature = TemperatureUnit.Fahrenheit, Volume = VolumeUnit.UsGallon }).ShouldBe(told);

    [Fact]
    public void Who_set_nothing_reads_what_the_desk_said() =>
        Told("read 1.6 (1.3 to 1.9) mS/cm at 18.5 °C in 5 L", new ReadersUnits()).ShouldBe("read 1.6 (1.3 to 1.9) mS/cm at 18.5 °C in 5 L");
}
