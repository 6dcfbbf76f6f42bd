using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>Waters poured together. Totals add; pH does not, the solver finds it.</summary>
public static class WaterBlend
{
    /// <summary>The blend of these shares.</summary>
    /// <param name="name">What the grower calls it.</param>
    /// <param name="parts">Waters and their litres; thin waters weigh alike, so litres stand for kilograms.</param>
    /// <param name="id">Of the source; a new one when null.</param>
    /// <exception cref="ArgumentException">No parts, or litres below zero or all zero.</exception>
    public static WaterSource Of(string name, IReadOnlyList<(WaterSource Water, double Litres)> parts, Guid? id = null)
    {
        var litres = parts.Sum(part => part.Litres);
        if (parts.Any(part => !(part.Litres >= 0)) || !(litres > 0))
        {
            throw new ArgumentException("A blend needs litres of at least one water, none below zero.", nameof(parts));
        }

        var totals = parts.Aggregate(ComponentAmounts.Zero, (sum, part) => sum.PlusScaled(part.Water.MolPerKgWater, part.Litres / litres));
        return new WaterSource
        {
            Id = id ?? Guid.CreateVersion7(),
            Name = name,
            MolPerKgWater = totals,
            RelativeUncertainty = UncertaintyOf(parts, totals),
            // Where one part's ions are known apart, all are: a part with one figure brings one doubt.
            Doubts = parts.Any(part => part.Water.Doubts.Count > 0)
                ? [.. parts.Where(part => part.Litres > 0).SelectMany(part => DoubtsOf(part.Water).Select(doubt => doubt.Scaled(part.Litres / litres)))]
                : [],
            PricePerLitre = parts.Sum(part => part.Water.PricePerLitre * (decimal)(part.Litres / litres)),
            Notes = [.. parts.SelectMany(part => part.Water.Notes.Select(note => $"{part.Water.Name}: {note}"))],
        };
    }

    private static IReadOnlyList<ComponentAmounts> DoubtsOf(WaterSource water) => water.Doubts.Count > 0 ? water.Doubts : [water.MolPerKgWater.Scaled(water.RelativeUncertainty)];

    // Errors of different waters are independent: squares add, each weighed by what the water brings of all ions.
    private static double UncertaintyOf(IReadOnlyList<(WaterSource Water, double Litres)> parts, ComponentAmounts totals)
    {
        static double Ions(ComponentAmounts amounts) => Components.All.Where(component => component != Component.Hydrogen).Sum(component => Math.Abs(component.Charge()) * amounts[component]);
        var litres = parts.Sum(part => part.Litres);
        var all = Ions(totals);
        return all == 0 ? 0.03 : Math.Sqrt(parts.Sum(part => Math.Pow(part.Water.RelativeUncertainty * Ions(part.Water.MolPerKgWater) * part.Litres / litres / all, 2)));
    }
}
