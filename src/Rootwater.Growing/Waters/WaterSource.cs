using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>A water as the planner sees it: what is in a kilogram of it, and how well that is known.</summary>
/// <remarks><see cref="MolPerKgWater"/> holds the closed totals, dissolved carbon dioxide included: its pH follows from them.</remarks>
public sealed record WaterSource
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required ComponentAmounts MolPerKgWater { get; init; }

    /// <summary>One standard deviation of each component's total, relative; the same for all where nothing better is known.</summary>
    public double RelativeUncertainty { get; init; } = 0.03;

    /// <summary>
    /// What each independent cause of doubt does to the totals at one standard deviation, mol/kg, electrically neutral each: how well every ion by itself is
    /// known, and which go together. Empty where only <see cref="RelativeUncertainty"/> is known.
    /// </summary>
    public IReadOnlyList<ComponentAmounts> Doubts { get; init; } = [];

    /// <summary>How much there is to draw on; null for as much as one likes.</summary>
    public double? AvailableLitres { get; init; }
    public decimal PricePerLitre { get; init; }

    /// <summary>What was estimated and not measured, in words, for the page.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}
