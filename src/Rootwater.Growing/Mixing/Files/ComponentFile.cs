using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing.Files;

/// <summary>Component amounts by name, as the files write them.</summary>
internal static class ComponentFile
{
    private static readonly Dictionary<string, Component> s_byName =
        Enum.GetValues<Component>().ToDictionary(component => PlanRequestCheck.Camel(component.ToString()), StringComparer.OrdinalIgnoreCase);

    /// <summary>Reads amounts; hydrogen left out is what neutrality asks for.</summary>
    public static ComponentAmounts? Read(IReadOnlyDictionary<string, double>? amounts, double scale, string at, List<PlanRequestProblem> found)
    {
        if (amounts is null)
        {
            found.Add(new(at, null, "amounts by component: " + string.Join(", ", s_byName.Keys)));
            return null;
        }

        var totals = ComponentAmounts.Zero;
        foreach (var (name, amount) in amounts)
        {
            if (!s_byName.TryGetValue(name, out var component))
            {
                found.Add(new($"{at}.{name}", null, "no such component; there are " + string.Join(", ", s_byName.Keys)));
                return null;
            }

            if (!double.IsFinite(amount) || (amount < 0 && component != Component.Hydrogen))
            {
                found.Add(new($"{at}.{name}", amount.ToString(CultureInfo.InvariantCulture), "0 or more"));
                return null;
            }

            totals = totals.With(component, amount * scale);
        }

        var charge = Charge(totals);
        if (!amounts.Keys.Contains("hydrogen", StringComparer.OrdinalIgnoreCase))
        {
            return totals.With(Component.Hydrogen, -charge);
        }

        var size = totals.AsSpan().ToArray().Sum(Math.Abs);
        if (Math.Abs(charge) > 0.01 * size)
        {
            found.Add(new(at, null, string.Create(CultureInfo.InvariantCulture, $"the charges do not balance: {charge / scale:+0.###;-0.###} too much; leave hydrogen out and it closes them")));
            return null;
        }

        return totals.With(Component.Hydrogen, totals[Component.Hydrogen] - charge);
    }

    /// <summary>The charge of the totals, hydrogen included, mol of charge.</summary>
    public static double Charge(ComponentAmounts totals)
    {
        var charge = 0.0;
        foreach (var component in totals.Present())
        {
            charge += component.Charge() * totals[component];
        }

        return charge;
    }
}

/// <summary>Waters as the files write them.</summary>
internal static class WaterFile
{
    private const double WorstImbalance = 0.1;

    // Abridged IUPAC standard atomic weights (2021), g/mol.
    private static readonly Dictionary<string, (Component Component, double GramsPerMole)> s_ions = new(StringComparer.OrdinalIgnoreCase)
    {
        ["calcium"] = (Component.Calcium, 40.078),
        ["magnesium"] = (Component.Magnesium, 24.305),
        ["sodium"] = (Component.Sodium, 22.98977),
        ["potassium"] = (Component.Potassium, 39.0983),
        ["ammonium"] = (Component.Ammonium, 18.039),
        ["nitrate"] = (Component.Nitrate, 62.004),
        ["chloride"] = (Component.Chloride, 35.45),
        ["sulfate"] = (Component.Sulfate, 96.056),
    };

    private const double HydrogenCarbonateGramsPerMole = 61.016;

    public static ComponentAmounts? Totals(WaterDto dto, string at, List<PlanRequestProblem> found)
    {
        if (dto.MmolPerKg is not null)
        {
            return ComponentFile.Read(dto.MmolPerKg, 1e-3, $"{at}.mmolPerKg", found);
        }

        if (dto.MgPerLitre is not { } milligrams)
        {
            found.Add(new($"{at}.mgPerLitre", null, "ions in mg/L, or mmolPerKg"));
            return null;
        }

        var totals = ComponentAmounts.Zero;
        double? declared = null;
        foreach (var (name, amount) in milligrams)
        {
            if (!double.IsFinite(amount) || amount is < 0 or > 10_000)
            {
                found.Add(new($"{at}.mgPerLitre.{name}", amount.ToString(CultureInfo.InvariantCulture), "0 to 10,000 mg/L"));
                return null;
            }

            if (name.Equals("hydrogenCarbonate", StringComparison.OrdinalIgnoreCase))
            {
                declared = amount / HydrogenCarbonateGramsPerMole / 1000;
            }
            else if (s_ions.TryGetValue(name, out var ion))
            {
                totals = totals.With(ion.Component, amount / ion.GramsPerMole / 1000);
            }
            else
            {
                found.Add(new($"{at}.mgPerLitre.{name}", null, "no such ion; there are hydrogenCarbonate, " + string.Join(", ", s_ions.Keys)));
                return null;
            }
        }

        return Close(totals, declared, dto.PH, at, found);
    }

    // Hydrogen carbonate closes the charge; where it is declared it must agree within a tenth of all the ions.
    private static ComponentAmounts? Close(ComponentAmounts totals, double? declared, double? ph, string at, List<PlanRequestProblem> found)
    {
        var alkalinity = ComponentFile.Charge(totals);
        var size = totals.Present().Sum(component => Math.Abs(component.Charge()) * totals[component]);
        if (alkalinity < -WorstImbalance * size || (declared is { } given && Math.Abs(alkalinity - given) > WorstImbalance * (size + given)))
        {
            found.Add(new($"{at}.mgPerLitre", null, string.Create(CultureInfo.InvariantCulture,
                $"the charges cannot balance: the ions leave {alkalinity * 1000:0.00} meq/L for hydrogen carbonate{(declared is { } said ? $", {said * 1000:0.00} are given" : "")}; look for a missing ion or a unit")));
            return null;
        }

        if (ph is < 4 or > 10)
        {
            found.Add(new($"{at}.pH", ph.Value.ToString(CultureInfo.InvariantCulture), "4 to 10"));
            return null;
        }

        alkalinity = Math.Max(0, alkalinity);
        if (ph is not { } known)
        {
            // No pH: in balance with ten times the carbon dioxide of outdoor air, as tap and barrel waters roughly are (common practice, no source).
            var open = EquilibriumSolver.Solve(totals.With(Component.Carbonate, alkalinity).With(Component.Hydrogen, alkalinity), SolveConditions.Default with { Air = Air.Open(-2.4) });
            return open.Solution?.TotalsMolPerKgWater ?? totals;
        }

        // pK1 of carbonic acid 6.35 at 25 °C (Stumm and Morgan): enough to place the carbon dioxide of a water.
        var carbonDioxide = alkalinity * Math.Pow(10, 6.35 - known);
        return totals.With(Component.Carbonate, alkalinity + carbonDioxide).With(Component.Hydrogen, alkalinity + 2 * carbonDioxide);
    }
}
