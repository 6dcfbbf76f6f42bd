using System.Collections.Frozen;
using System.Globalization;
using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Data;
using Rootwater.Chemistry.Saturation;

namespace Rootwater.Chemistry.Species;

/// <summary>One species, formed from components (and water): Σ ν component + w H2O = species.</summary>
internal sealed record AqueousSpecies(
    string Name, int Charge, double[] Stoichiometry, double Waters, EquilibriumConstant Constant, ActivityModel Activity, bool IsMaster);

/// <summary>A solid or gas: the activity product Π a^ν of components (and water) at saturation is its constant.</summary>
internal sealed record Phase(string Name, double[] Stoichiometry, double Waters, EquilibriumConstant Constant);

/// <summary>Everything that can exist, read once from the tables in <c>data/chemistry</c>; every row there names its source.</summary>
internal static class SpeciesDatabase
{
    private static readonly Dictionary<string, AqueousSpecies> s_byName = [];

    static SpeciesDatabase()
    {
        var rows = Table.Load("species.2025.csv").Rows.ToDictionary(row => row.Text("name"));
        foreach (var name in rows.Keys)
        {
            Define(name, rows);
        }

        Species = [.. s_byName.Values];
        var phases = Table.Load("phases.2025.csv").Rows.Select(DefinePhase).ToDictionary(phase => phase.Name);
        CarbonDioxideGas = phases["CO2(g)"];
        Minerals = Enum.GetValues<Mineral>().ToFrozenDictionary(mineral => mineral, mineral => phases[mineral == Mineral.Silica ? "SiO2(a)" : mineral.ToString()]);
    }

    public static IReadOnlyList<AqueousSpecies> Species { get; }

    public static FrozenDictionary<Mineral, Phase> Minerals { get; }

    public static Phase CarbonDioxideGas { get; }

    private static AqueousSpecies Define(string name, Dictionary<string, Table.Row> rows)
    {
        if (s_byName.TryGetValue(name, out var known))
        {
            return known;
        }

        if (!rows.TryGetValue(name, out var row))
        {
            throw new InvalidOperationException($"The species table uses '{name}' and does not define it.");
        }

        var stoichiometry = new double[ComponentAmounts.Count];
        var waters = 0.0;
        var constant = default(EquilibriumConstant);
        var isMaster = Components.TryFromMaster(name, out var component);
        if (isMaster)
        {
            stoichiometry[(int)component] = 1;
        }
        else
        {
            var (left, right) = Sides(row.Text("reaction"));
            constant = EquilibriumConstant.FromRow(row);
            Add(left, 1, null);
            Add(right, -1, name);
        }

        var charge = (int)row.Number("charge");
        var species = new AqueousSpecies(name, charge, stoichiometry, waters, constant, Model(row, charge), isMaster);
        var formed = stoichiometry.Select((nu, index) => nu * ((Component)index).Charge()).Sum();
        if (Math.Abs(formed - charge) > 1e-9)
        {
            throw new InvalidOperationException($"The species '{name}' has charge {charge} but its reaction gives {formed}.");
        }

        s_byName.Add(name, species);
        return species;

        void Add(List<(double Coefficient, string Name)> side, double sign, string? skip)
        {
            foreach (var (coefficient, term) in side)
            {
                if (term == skip)
                {
                    continue;
                }

                if (term == "H2O")
                {
                    waters += sign * coefficient;
                    continue;
                }

                var part = Define(term, rows);
                waters += sign * coefficient * part.Waters;
                constant = constant.PlusScaled(part.Constant, sign * coefficient);
                for (var i = 0; i < stoichiometry.Length; i++)
                {
                    stoichiometry[i] += sign * coefficient * part.Stoichiometry[i];
                }
            }
        }
    }

    private static Phase DefinePhase(Table.Row row)
    {
        var stoichiometry = new double[ComponentAmounts.Count];
        var waters = 0.0;
        var constant = EquilibriumConstant.FromRow(row);
        var (left, right) = Sides(row.Text("reaction"));
        // The first term on the left is the phase itself; whatever stands beside it takes part as dissolved species.
        Add(left.Skip(1), -1);
        Add(right, 1);
        return new Phase(row.Text("name"), stoichiometry, waters, constant);

        void Add(IEnumerable<(double Coefficient, string Name)> side, double sign)
        {
            foreach (var (coefficient, term) in side)
            {
                if (term == "H2O")
                {
                    waters += sign * coefficient;
                    continue;
                }

                var part = s_byName[term];
                // log IAP is written in components, so the species' own formation constants move to the right-hand side.
                constant = constant.PlusScaled(part.Constant, -sign * coefficient);
                waters += sign * coefficient * part.Waters;
                for (var i = 0; i < stoichiometry.Length; i++)
                {
                    stoichiometry[i] += sign * coefficient * part.Stoichiometry[i];
                }
            }
        }
    }

    private static ActivityModel Model(Table.Row row, int charge) => row.Text("activity_model") switch
    {
        "extended-debye-hueckel" => new(ActivityForm.Extended, charge * charge, row.Number("ion_size_angstrom"), row.NumberOr("b_kg_per_mol", 0)),
        "davies" => new(ActivityForm.Davies, charge * charge, row.NumberOr("ion_size_angstrom", 0), 0),
        "setschenow" => new(ActivityForm.Setschenow, charge * charge, 0, row.NumberOr("b_kg_per_mol", 0.1)),
        var other => throw new InvalidOperationException($"'{other}' is not an activity model of the species table."),
    };

    private static (List<(double Coefficient, string Name)> Left, List<(double Coefficient, string Name)> Right) Sides(string reaction)
    {
        var sides = reaction.Split(" = ");
        return (Terms(sides[0]), Terms(sides[1]));

        static List<(double, string)> Terms(string side) => [.. side.Split(" + ").Select(term =>
        {
            var parts = term.Trim().Split(' ', 2);
            return parts.Length == 2 ? (double.Parse(parts[0], CultureInfo.InvariantCulture), parts[1]) : (1.0, parts[0]);
        })];
    }
}
