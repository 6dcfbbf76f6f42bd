using Rootwater.Growing;
using Rootwater.Growing.Waters;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Pages.Water;

/// <summary>One line of the form: a quantity, the units it is reported in, what was typed.</summary>
public sealed class ReportLine(string key, string what, params string[] units)
{
    /// <summary>Names its words in the resource file.</summary>
    public string Key { get; } = key;

    /// <summary>As the growing floor knows it.</summary>
    public string What { get; } = what;
    public IReadOnlyList<string> Units { get; } = units;

    /// <summary>What the growing floor calls the quantity when something is wrong with it.</summary>
    public string Quantity { get; } = WaterWords.TryQuantity(what, out var quantity) ? quantity.ToString() : what;
    public string Unit { get; set; } = units[0];
    public string Text { get; set; } = "";
}

/// <summary>A report as typed: the short form of a grower with an EC pen and drops, or the long one of a laboratory.</summary>
public sealed class ReportEntry(DateOnly sampledOn, ReadersUnits? units = null)
{
    public const string CelsiusField = "temperature";

    private static readonly string[] s_perLitre = ["mg/L", "µg/L", "mmol/L", "meq/L"];
    private static readonly string[] s_hardness = ["°dH", "mg/L CaCO3", "mmol/L", "meq/L", "°fH", "°e", "gpg"];
    private static readonly string[] s_conductivity = ["mS/cm", "µS/cm", "ppm 0.5", "ppm 0.64", "ppm 0.7"];

    // One id however often "keep" is pressed.
    private readonly Guid _id = Guid.CreateVersion7();

    private readonly ReportLine[] _pen = [new("EC", "EC", s_conductivity) { Unit = EcUnit(units) }, new("GH", "GH", s_hardness) { Unit = HardnessUnit(units) }, new("KH", "KH", s_hardness) { Unit = HardnessUnit(units) }, new("PH", "pH", "")];

    private readonly ReportLine[] _laboratory =
    [
        new("PH", "pH", ""), new("EC", "EC", s_conductivity) { Unit = "µS/cm" }, new("Alkalinity", "alkalinity", s_hardness) { Unit = "mmol/L" }, new("Hardness", "hardness", s_hardness),
        new("Ca", "Ca", s_perLitre), new("Mg", "Mg", s_perLitre), new("Na", "Na", s_perLitre), new("K", "K", s_perLitre),
        new("NO3", "NO3", [.. s_perLitre, "mg/L as N"]), new("NH4", "NH4", [.. s_perLitre, "mg/L as N"]), new("Cl", "Cl", s_perLitre), new("SO4", "SO4", [.. s_perLitre, "mg/L as S"]), new("PO4", "PO4", [.. s_perLitre, "mg/L as P"]),
        new("SiO2", "SiO2", [.. s_perLitre, "mg/L as Si"]), new("Fe", "Fe", s_perLitre), new("Mn", "Mn", s_perLitre), new("Zn", "Zn", s_perLitre), new("Cu", "Cu", s_perLitre), new("B", "B", s_perLitre),
    ];

    public bool Laboratory { get; set; }
    public IReadOnlyList<ReportLine> Lines => Laboratory ? _laboratory : _pen;
    public DateOnly SampledOn { get; set; } = sampledOn;

    /// <summary>In the reader's unit.</summary>
    public string Celsius { get; set; } = (units?.Temperature ?? TemperatureUnit.Celsius).FromCelsius(20).ToString("0.#", System.Globalization.CultureInfo.InvariantCulture);
    public string From { get; set; } = "";

    /// <summary>Says what to suppose where the report is silent.</summary>
    public WaterOrigin Origin { get; set; }

    /// <summary>Whether what is wrong with this field has its place beside it.</summary>
    public bool Places(string field, Func<string, string> words) => field.Equals(CelsiusField, StringComparison.OrdinalIgnoreCase)
        || Lines.Any(line => line.What.Equals(field, StringComparison.OrdinalIgnoreCase) || line.Quantity.Equals(field, StringComparison.OrdinalIgnoreCase) || words(line.Key).Equals(field, StringComparison.OrdinalIgnoreCase));

    /// <exception cref="EntryException">Names every field that is no number, or says that all are empty.</exception>
    public NewWaterReport ToReport(Guid waterId)
    {
        var problems = new List<EntryProblem>();
        var values = new List<ReportedValue>();
        foreach (var line in Lines)
        {
            if (!Entry.TryReadOptional(line.Text, out var value))
                problems.Add(new EntryProblem(line.What, line.Text, "type a number such as 4.1 or 4,1, or leave it empty."));
            else if (value is < 0)
                problems.Add(new EntryProblem(line.What, line.Text, "must be 0 or more."));
            else if (value is { } number)
                values.Add(new ReportedValue(line.What, number, line.Unit));
        }

        var read = Entry.TryRead(Celsius, out var shown);
        var celsius = (units?.Temperature ?? TemperatureUnit.Celsius).ToCelsius(shown);
        if (!read || celsius is < 0 or > 50)
            problems.Add(new EntryProblem(CelsiusField, Celsius, units?.Temperature == TemperatureUnit.Fahrenheit ? "type the water's temperature, 32 to 122 °F." : "type the water's temperature, 0 to 50 °C."));
        if (values.Count == 0 && problems.Count == 0)
            problems.Add(new EntryProblem(Lines[0].What, null, "type at least one value; an EC pen alone is a start."));
        if (problems.Count > 0)
            throw new EntryException(problems);
        return new NewWaterReport { Id = _id, WaterId = waterId, SampledOn = SampledOn, Values = values, Origin = Origin, TemperatureCelsius = celsius, From = string.IsNullOrWhiteSpace(From) ? null : From.Trim() };
    }

    // The reader's unit stands first; any other can be chosen, because a strip or a sheet may use it.
    private static string EcUnit(ReadersUnits? units) => units?.Ec switch { EcScale.Ppm500 => "ppm 0.5", EcScale.Ppm640 => "ppm 0.64", EcScale.Ppm700 => "ppm 0.7", _ => "mS/cm" };

    private static string HardnessUnit(ReadersUnits? units) => units?.Hardness == Growing.HardnessUnit.MilligramsPerLitreCaCO3 ? "mg/L CaCO3" : "°dH";
}
