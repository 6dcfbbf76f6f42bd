using System.Globalization;

namespace Rootwater.Growing.Waters;

/// <summary>Where a water comes from, which says what to suppose where the report is silent.</summary>
public enum WaterOrigin
{
    /// <summary>Tap, well or unknown: more carbon dioxide than the air holds.</summary>
    Ground,

    /// <summary>Rain or stored open water: in balance with the air.</summary>
    Rain,

    /// <summary>Reverse osmosis or distilled, as it leaves the membrane.</summary>
    Purified,
}

/// <summary>What a laboratory, a supplier's yearly report, or a grower's pen and drops say of a water: any subset, in any of the trade's units.</summary>
public sealed record WaterReport
{
    public required string Name { get; init; }
    public required IReadOnlyList<WaterReading> Readings { get; init; }
    public WaterOrigin Origin { get; init; }

    /// <summary>The temperature its EC is stated for, °C: 25, or 20 as in many European reports.</summary>
    public double EcReferenceCelsius { get; init; } = 25;

    /// <summary>Adds one reading; for building reports by hand.</summary>
    public WaterReport With(WaterQuantity quantity, double value, WaterUnit unit) => this with { Readings = [.. Readings, new WaterReading(quantity, value, unit)] };
}

/// <summary>A report's readings in one unit each, checked.</summary>
internal sealed class WaterFacts
{
    // ISO 7888: from 20 to 25 °C the EC of natural water rises by this factor (from memory).
    private const double From20To25Celsius = 1.116;

    // Absurd beyond these: sea water has 50 mS/cm, brines are not watered with.
    private const double MostMicrosiemensPerCm = 20_000, MostMeqPerLitre = 100;

    // Drops count whole degrees or half ones; a laboratory states 5 % (common practice, no source).
    private const double DropMeqPerLitre = 0.15, LaboratoryRelative = 0.05, PenRelative = 0.03;

    private readonly Dictionary<WaterQuantity, double> _mmolPerLitre = [];

    private WaterFacts()
    {
    }

    /// <summary>Dissolved substances stated, mmol/L.</summary>
    public IReadOnlyDictionary<WaterQuantity, double> MmolPerLitre => _mmolPerLitre;

    public double? AlkalinityMeqPerLitre { get; private set; }
    public double AlkalinitySigmaMeqPerLitre { get; private set; }
    public double? HardnessMmolPerLitre { get; private set; }
    public double HardnessSigmaMmolPerLitre { get; private set; }
    public double? PH { get; private set; }
    public double? MicrosiemensPerCm { get; private set; }
    public double EcRelativeSigma { get; private set; } = PenRelative;
    public double? Celsius { get; private set; }

    public static double IonRelativeSigma => LaboratoryRelative;

    public static WaterFacts? Read(WaterReport report, List<InputProblem> problems)
    {
        var facts = new WaterFacts();
        if (string.IsNullOrWhiteSpace(report.Name))
        {
            problems.Add(InputProblem.Error("name", report.Name, "Give the water a name."));
        }

        if (report.EcReferenceCelsius is not (20 or 25))
        {
            problems.Add(InputProblem.Error("EC reference temperature", Say(report.EcReferenceCelsius), "Reports state EC at 20 or 25 °C."));
        }

        foreach (var group in report.Readings.GroupBy(reading => Kind(reading.Quantity)))
        {
            double? first = null;
            foreach (var reading in group)
            {
                if (facts.Value(reading, report, problems) is not { } value)
                {
                    continue;
                }

                if (first is { } earlier && Math.Abs(value - earlier) > 0.05 * Math.Abs(earlier) + 1e-6)
                {
                    problems.Add(InputProblem.Error(Name(reading.Quantity), Say(reading.Value), $"{Name(reading.Quantity)} is given twice and the two differ. Keep the right one."));
                }

                first ??= value;
            }

            if (first is { } kept)
            {
                facts.Keep(group.First(), kept);
            }
        }

        if (problems.TrueForAll(problem => problem.Severity != Severity.Error) && facts.PH is null && facts.MicrosiemensPerCm is null && facts.AlkalinityMeqPerLitre is null && facts.HardnessMmolPerLitre is null && facts.MmolPerLitre.Count == 0)
        {
            problems.Add(InputProblem.Error("report", null, "There is no reading in it. An EC pen with GH and KH drops is enough to begin with."));
        }

        return problems.Any(problem => problem.Severity == Severity.Error) ? null : facts;
    }

    internal static string Name(WaterQuantity quantity) => quantity switch
    {
        WaterQuantity.PH => "pH",
        WaterQuantity.Conductivity => "EC",
        _ => quantity.ToString().ToLowerInvariant(),
    };

    internal static string Say(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static WaterQuantity Kind(WaterQuantity quantity) => quantity == WaterQuantity.Bicarbonate ? WaterQuantity.Alkalinity : quantity;

    private double? Value(WaterReading reading, WaterReport report, List<InputProblem> problems)
    {
        var name = Name(reading.Quantity);
        if (!double.IsFinite(reading.Value))
        {
            problems.Add(InputProblem.Error(name, Say(reading.Value), "It must be a number."));
            return null;
        }

        if (!WaterUnits.Fits(reading.Quantity, reading.Unit))
        {
            problems.Add(InputProblem.Error(name, $"{Say(reading.Value)} {reading.Unit}", $"It can be given in {WaterUnits.Accepted(reading.Quantity)}."));
            return null;
        }

        if (reading.Quantity == WaterQuantity.PH)
        {
            return Checked(reading.Value, reading.Value is >= 0 and <= 14, "A pH lies between 0 and 14.");
        }

        if (reading.Quantity == WaterQuantity.Temperature)
        {
            var celsius = reading.Unit == WaterUnit.Celsius ? reading.Value : Chemistry.Quantities.Temperature.FromFahrenheit(reading.Value).Celsius;
            return Checked(celsius, celsius is >= 0 and <= 50, "Water to pour is between 0 and 50 °C (32 and 122 °F).");
        }

        if (reading.Value < 0)
        {
            return Checked(reading.Value, false, "It cannot be below zero.");
        }

        return reading.Quantity switch
        {
            WaterQuantity.Conductivity => EcAt25(),
            WaterQuantity.Hardness => Below(WaterUnits.HardnessMmolPerLitre(reading.Value, reading.Unit)),
            WaterQuantity.Alkalinity or WaterQuantity.Bicarbonate => Below(WaterUnits.AlkalinityMeqPerLitre(reading.Quantity, reading.Value, reading.Unit)),
            _ => Below(WaterUnits.MmolPerLitre(WaterIon.Find(reading.Quantity)!, reading.Value, reading.Unit)),
        };

        double? EcAt25()
        {
            var ec = WaterUnits.MicrosiemensPerCm(reading.Value, reading.Unit) * (report.EcReferenceCelsius == 20 ? From20To25Celsius : 1);
            return Checked(ec, ec <= MostMicrosiemensPerCm, $"More than {MostMicrosiemensPerCm / 1000:0} mS/cm is no water to water with. Is it µS/cm and not mS/cm?");
        }

        double? Below(double amount) => Checked(amount, amount <= MostMeqPerLitre, $"That would be {Say(amount)} mmol/L, more than any water to water with. Look at the unit.");

        double? Checked(double value, bool good, string message)
        {
            if (!good)
            {
                problems.Add(InputProblem.Error(name, Say(reading.Value), message));
            }

            return good ? value : null;
        }
    }

    private void Keep(WaterReading reading, double value)
    {
        var drops = reading.Unit is WaterUnit.GermanDegrees or WaterUnit.FrenchDegrees or WaterUnit.EnglishDegrees or WaterUnit.GrainsPerUsGallon;
        double Sigma(double meq) => reading.RelativeError is { } relative ? relative * meq : drops ? Math.Max(DropMeqPerLitre, LaboratoryRelative * meq) : LaboratoryRelative * meq;
        switch (reading.Quantity)
        {
            case WaterQuantity.PH:
                PH = value;
                break;
            case WaterQuantity.Temperature:
                Celsius = value;
                break;
            case WaterQuantity.Conductivity:
                MicrosiemensPerCm = value;
                EcRelativeSigma = reading.RelativeError ?? PenRelative;
                break;
            case WaterQuantity.Hardness:
                HardnessMmolPerLitre = value;
                HardnessSigmaMmolPerLitre = Sigma(2 * value) / 2;
                break;
            case WaterQuantity.Alkalinity or WaterQuantity.Bicarbonate:
                AlkalinityMeqPerLitre = value;
                AlkalinitySigmaMeqPerLitre = Sigma(value);
                break;
            default:
                _mmolPerLitre[reading.Quantity] = value;
                break;
        }
    }
}
