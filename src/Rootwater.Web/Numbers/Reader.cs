using System.Globalization;
using System.Text.RegularExpressions;
using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Numbers;

/// <summary>Shows quantities in the reader's units and reads what is typed in them. What is kept is always litres, °C, µS/cm at 25 °C, meq/L.</summary>
/// <remarks>One for the program, because a bench has one setting; pages take it in at the start of each request.</remarks>
public sealed partial class Reader(ISettingsDesk desk)
{
    private static readonly CultureInfo s_culture = CultureInfo.InvariantCulture;

    public ReadersUnits Units { get; private set; } = new();

    public string EcUnit => Units.Ec switch
    {
        EcScale.Ppm500 => "ppm (0.5 scale)",
        EcScale.Ppm640 => "ppm (0.64 scale)",
        EcScale.Ppm700 => "ppm (0.7 scale)",
        _ => "mS/cm",
    };

    /// <summary>Shown per µS/cm.</summary>
    public double EcFactor => Units.Ec.FromMicrosiemens(1);
    public int EcDigits => Units.Ec == EcScale.MillisiemensPerCm ? 2 : 0;

    /// <summary>Shown per litre.</summary>
    public double LitresFactor => Units.Volume.FromLitres(1);

    public string LitresUnit => Units.Volume == VolumeUnit.UsGallon ? "US gal" : "L";
    public string CelsiusUnit => Units.Temperature == TemperatureUnit.Fahrenheit ? "°F" : "°C";
    public string HardnessUnit => Units.Hardness == Growing.HardnessUnit.GermanDegree ? "dKH" : "mg/L CaCO₃";

    /// <summary>Takes over what is set now.</summary>
    public async Task RefreshAsync(CancellationToken cancel = default)
    {
        try
        {
            Units = (await desk.GetAsync(cancel)).Units;
        }
        catch (LedgerProblem)
        {
            // The page will meet the same trouble and say it; units stay as they were.
        }
    }

    /// <summary>Shows in these units from now on.</summary>
    public void Take(ReadersUnits units) => Units = units;

    public string Ec(double microsiemensPerCm) => Units.Ec.FromMicrosiemens(microsiemensPerCm).ToString(EcFormat, s_culture);

    public string EcBand(Expected microsiemensPerCm) => $"{Ec(microsiemensPerCm.Low)} to {Ec(microsiemensPerCm.High)}";

    /// <summary>With its unit.</summary>
    public string EcWords(double microsiemensPerCm) => $"{Ec(microsiemensPerCm)} {EcUnit}";

    /// <summary>The same in every scale growers quote but the reader's own, always named.</summary>
    public string OtherScales(double microsiemensPerCm) => string.Join(" · ", new[]
    {
        Units.Ec == EcScale.MillisiemensPerCm ? null : $"{Show.Ec(microsiemensPerCm)} mS/cm",
        string.Create(s_culture, $"{microsiemensPerCm:0} µS/cm"),
        Units.Ec == EcScale.Ppm500 ? null : string.Create(s_culture, $"{microsiemensPerCm * 0.5:0} ppm (0.5 scale)"),
        Units.Ec == EcScale.Ppm640 ? null : string.Create(s_culture, $"{microsiemensPerCm * 0.64:0} ppm (0.64)"),
        Units.Ec == EcScale.Ppm700 ? null : string.Create(s_culture, $"{microsiemensPerCm * 0.7:0} ppm (0.7)"),
    }.OfType<string>());

    public string Litres(double litres) => Units.Volume.FromLitres(litres).ToString("0.##", s_culture);

    public string LitresWords(double litres) => $"{Litres(litres)} {LitresUnit}";

    public string Celsius(double celsius) => Units.Temperature.FromCelsius(celsius).ToString("0.#", s_culture);

    public string CelsiusWords(double celsius) => $"{Celsius(celsius)} {CelsiusUnit}";

    /// <summary>Alkalinity or hardness.</summary>
    public string Hardness(double meqPerLitre) => Units.Hardness.FromMilliequivalents(meqPerLitre).ToString(Units.Hardness == Growing.HardnessUnit.GermanDegree ? "0.0" : "0", s_culture);

    /// <summary>A dose to its step; water in the reader's volume, whatever is weighed or drawn into a syringe as it is.</summary>
    public string Dose(double amount, string unit) => unit == "L" && Units.Volume == VolumeUnit.UsGallon ? Units.Volume.FromLitres(amount).ToString("0.0##", s_culture) : Show.Dose(amount);

    public string DoseUnit(string unit) => unit == "L" ? LitresUnit : unit;

    /// <summary>A sentence of a desk, which speaks in mS/cm, °C and litres, with its amounts in the reader's units. For absolute amounts: a difference of degrees would be shifted.</summary>
    public string Words(string sentence) => Units is { Ec: EcScale.MillisiemensPerCm, Temperature: TemperatureUnit.Celsius, Volume: VolumeUnit.Litre } ? sentence
        : Amounts().Replace(sentence, amount => amount.Groups["unit"].Value switch
        {
            "mS/cm" when Units.Ec != EcScale.MillisiemensPerCm => Shown(amount, value => Ec(1000 * value), EcUnit),
            "°C" when Units.Temperature != TemperatureUnit.Celsius => Shown(amount, Celsius, CelsiusUnit),
            "L" when Units.Volume != VolumeUnit.Litre => Shown(amount, Litres, LitresUnit),
            _ => amount.Value,
        });

    // Each number of "1.6", "10 to 15" or "1.6 (1.3 to 1.9)" by itself; what joins them stays.
    private static string Shown(Match amount, Func<double, string> show, string unit) =>
        Number().Replace(amount.Groups["numbers"].Value, number => show(double.Parse(number.Value.Replace('−', '-'), s_culture))) + " " + unit;

    [GeneratedRegex(@"(?<![\w.])(?<numbers>[-−]?\d+(?:\.\d+)?(?: to [-−]?\d+(?:\.\d+)?| \([-−]?\d+(?:\.\d+)? to [-−]?\d+(?:\.\d+)?\))?) (?<unit>mS/cm|°C|L)(?![\w/])", RegexOptions.CultureInvariant)]
    private static partial Regex Amounts();

    [GeneratedRegex(@"[-−]?\d+(?:\.\d+)?", RegexOptions.CultureInvariant)]
    private static partial Regex Number();

    private string EcFormat => Units.Ec == EcScale.MillisiemensPerCm ? "0.00" : "0";
}
