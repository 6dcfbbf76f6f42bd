using System.Globalization;
using Rootwater.Growing;

namespace Rootwater.Web.Numbers;

/// <summary>Numbers as the pages show them: in the precision a grower can use, always with a point, never with a thousands sign.</summary>
public static class Show
{
    private static readonly CultureInfo s_culture = CultureInfo.InvariantCulture;

    /// <summary>EC in mS/cm from µS/cm.</summary>
    public static string Ec(double microsiemensPerCm) => (microsiemensPerCm / 1000).ToString("0.00", s_culture);

    public static string PH(double pH) => pH.ToString("0.0", s_culture);

    /// <summary>"5.6 to 6.0"; two decimals where one would hide the band.</summary>
    public static string PHBand(Expected pH) => pH.High - pH.Low < 0.25 ? Range(pH.Low, pH.High, "0.00") : Range(pH.Low, pH.High, "0.0");

    /// <summary>A dose to its scale or syringe step: one decimal at least, two where it was weighed so finely.</summary>
    public static string Dose(double amount) => amount.ToString(amount >= 100 ? "0" : "0.0##", s_culture);

    /// <summary>Three figures are more than any label is good for.</summary>
    public static string Amount(double value) => Math.Abs(value) switch
    {
        0 => "0",
        < 0.0995 => value.ToString("0.000", s_culture),
        < 0.995 => value.ToString("0.00", s_culture),
        < 9.95 => value.ToString("0.0", s_culture),
        _ => value.ToString("0", s_culture),
    };

    /// <summary>From millimetres, to the millimetre.</summary>
    public static string Centimetres(double millimetres) => (millimetres / 10).ToString("0.#", s_culture);

    public static string Litres(double litres) => litres.ToString("0.##", s_culture);

    /// <summary>A probability under chance; never a bare zero, for no record can say that.</summary>
    public static string PValue(double? p) => p switch
    {
        null => "–",
        < 0.0001 => "< 0.0001",
        < 0.01 => p.Value.ToString("0.0000", s_culture),
        _ => p.Value.ToString("0.000", s_culture),
    };

    public static string Money(decimal cost) => cost.ToString("0.00", s_culture);

    public static string Percent(double share) => (share * 100).ToString("0", s_culture) + " %";

    public static string Grams(double grams) => grams >= 1000 ? (grams / 1000).ToString("0.00", s_culture) + " kg" : Amount(grams) + " g";

    public static string Day(DateOnly day) => day.ToString("dddd d MMMM", CultureInfo.GetCultureInfo("en"));

    public static string ShortDay(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.GetCultureInfo("en"));

    /// <summary>The same with a capital at its head, for a line of its own.</summary>
    public static string Headed(string words) => words.Length == 0 || words.StartsWith("pH", StringComparison.Ordinal) ? words : char.ToUpper(words[0], s_culture) + words[1..];

    private static string Range(double low, double high, string format) => $"{low.ToString(format, s_culture)} to {high.ToString(format, s_culture)}";
}
