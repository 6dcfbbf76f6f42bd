using Rootwater.Chemistry.Quantities;
using Rootwater.Growing;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Web.Numbers;

namespace Rootwater.Web.Components.Mixing;

/// <summary>What is ticked on the mixing page. It starts with everybody who is due, every water, every can and the whole cupboard.</summary>
public sealed class MixingChoice
{
    public const string CelsiusField = "can temperature";

    public HashSet<string> Groups { get; } = [];
    public HashSet<Guid> LeftOut { get; } = [];
    public HashSet<Guid> Waters { get; } = [];
    public HashSet<string> Vessels { get; } = [];
    public HashSet<Guid> Products { get; } = [];
    public HashSet<Guid> Leftovers { get; } = [];
    public int MostCans { get; set; } = 2;

    /// <summary>Whether the cards expect what earlier cans taught; asked for, never by itself.</summary>
    public bool AsLearned { get; set; }

    /// <summary>How far the curve of cans against wants goes: to what was chosen, and at least to four.</summary>
    public static int Curve(int mostCans) => Math.Clamp(mostCans, 4, 6);

    /// <summary>As typed, in the reader's unit.</summary>
    public string Celsius { get; set; } = "18";

    private ReadersUnits Units { get; init; } = new();

    public static MixingChoice AllOf(BenchToday bench, ReadersUnits units)
    {
        var choice = new MixingChoice { Units = units, Celsius = units.Temperature.FromCelsius(18).ToString("0.#", System.Globalization.CultureInfo.InvariantCulture) };
        choice.Groups.UnionWith(bench.Due.Select(due => due.Group.Name));
        choice.Waters.UnionWith(bench.Waters.Select(water => water.Id));
        choice.Vessels.UnionWith(bench.Vessels.Select(vessel => vessel.Name));
        choice.Products.UnionWith(bench.Cupboard.Select(item => item.Product.Id).Except(bench.HeldBack));
        return choice;
    }

    /// <exception cref="EntryException">The temperature is no number between 5 and 40, or nothing is left to mix with.</exception>
    public PlanChoices ToPlanChoices(DateOnly asOf)
    {
        var problems = new List<EntryProblem>();
        var read = Entry.TryRead(Celsius, out var shown);
        var celsius = Units.Temperature.ToCelsius(shown);
        if (!read || celsius is < 5 or > 40)
            problems.Add(new EntryProblem(CelsiusField, Celsius, Units.Temperature == TemperatureUnit.Fahrenheit ? "type a temperature between 41 and 104 °F; cold water shocks roots." : "type a temperature between 5 and 40 °C; cold water shocks roots."));
        if (Groups.Count == 0)
            problems.Add(new EntryProblem("who is due", null, "tick at least one group."));
        if (Waters.Count == 0)
            problems.Add(new EntryProblem("water", null, "tick at least one water."));
        if (Vessels.Count == 0)
            problems.Add(new EntryProblem("can", null, "tick at least one can to mix in."));
        if (problems.Count > 0)
            throw new EntryException(problems);
        return new PlanChoices
        {
            AsOf = asOf,
            Groups = Groups,
            LeaveOutPlants = LeftOut,
            Waters = Waters,
            Products = Products,
            Vessels = Vessels,
            Leftovers = Leftovers,
            MostCans = MostCans,
            ExpectAsLearned = AsLearned,
            CanTemperature = Temperature.FromCelsius(celsius),
        };
    }
}
