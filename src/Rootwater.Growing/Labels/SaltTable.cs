using Rootwater.Chemistry.Formulas;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Labels;

/// <summary>A salt, acid or base that fertilizers are made of: what is in it. How it is handled stands in <c>Cupboard.SaltFacts</c>.</summary>
public sealed record Salt
{
    /// <summary>As in the table; the key.</summary>
    public required string Formula { get; init; }
    public required string Name { get; init; }

    /// <summary>Met only in liquid products.</summary>
    public required bool OnlyDissolved { get; init; }

    /// <summary>What supposing it costs when a label is explained, in units of χ².</summary>
    public required double Rarity { get; init; }

    public required IReadOnlyList<string> AlsoCalled { get; init; }

    /// <summary>Moles of each component in a kilogram of the pure salt.</summary>
    public required ComponentAmounts MolPerKg { get; init; }

    /// <summary>Milligrams of each nutrient in a kilogram of the pure salt.</summary>
    public NutrientAmounts MgPerKg => Nutrients.MilligramsIn(MolPerKg);
}

/// <summary>The salts of data/growing/salts.csv.</summary>
public static class SaltTable
{
    private static readonly Lazy<IReadOnlyList<Salt>> s_all = new(Load);

    public static IReadOnlyList<Salt> All => s_all.Value;

    /// <summary>The salt written this way in the table (a point or dot between salt and water are the same); null when it is not in it.</summary>
    public static Salt? Find(string formula) => All.FirstOrDefault(salt => Plain(salt.Formula) == Plain(formula));

    /// <summary>The salts that a list in words names ("potassium nitrate, calcium nitrate, boric acid"). One name may mean several hydrates.</summary>
    public static IReadOnlyList<Salt> NamedIn(string text)
    {
        var left = text.ToLowerInvariant();
        var found = new HashSet<Salt>();
        // Longer names first, so that "monoammonium phosphate" is not also read as "ammonium phosphate".
        var names = All.SelectMany(salt => salt.AlsoCalled.Append(salt.Name).Select(name => (Name: name.ToLowerInvariant(), Salt: salt)))
            .GroupBy(pair => pair.Name).OrderByDescending(group => group.Key.Length);
        foreach (var group in names)
        {
            for (var at = left.IndexOf(group.Key, StringComparison.Ordinal); at >= 0; at = left.IndexOf(group.Key, StringComparison.Ordinal))
            {
                found.UnionWith(group.Select(pair => pair.Salt));
                left = left.Remove(at, group.Key.Length).Insert(at, new string('\n', group.Key.Length));
            }
        }

        return [.. All.Where(found.Contains)];
    }

    private static string Plain(string formula) => formula.Replace('.', '·').Replace(" ", string.Empty, StringComparison.Ordinal);

    private static IReadOnlyList<Salt> Load() => [.. EmbeddedTable.Read("salts.csv").Select(row =>
    {
        var formula = Formula.Parse(row["formula"]);
        return new Salt
        {
            Formula = row["formula"],
            Name = row["name"],
            OnlyDissolved = row["form"] == "dissolved",
            Rarity = row.Number("rarity"),
            AlsoCalled = row["also_called"].Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries),
            MolPerKg = formula.ComponentsPerMole.Scaled(1000 / formula.GramsPerMole),
        };
    })];
}
