using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing;

/// <summary>One thing to add to put a can right.</summary>
/// <param name="What">Name of the product or water.</param>
/// <param name="ProductId">The product, or null.</param>
/// <param name="WaterId">The water, or null.</param>
/// <param name="Amount">In <paramref name="Unit"/>.</param>
/// <param name="Unit">"g", "mL" or "L".</param>
/// <param name="Reason">Why.</param>
/// <param name="Cautions">Short cautions for handling it.</param>
public sealed record RepairAddition(string What, Guid? ProductId, Guid? WaterId, double Amount, string Unit, string Reason, IReadOnlyList<string> Cautions);

/// <summary>A repair of this very can; no additions where none is needed or none is possible, <see cref="Words"/> says which.</summary>
public sealed record CanRepairResult
{
    public required IReadOnlyList<RepairAddition> Additions { get; init; }

    /// <summary>What the pens should read after the repair (EC compensated to 25 °C, µS/cm); null without additions.</summary>
    public required Expected? EcMicrosiemensPerCm { get; init; }
    public required Expected? PH { get; init; }

    /// <summary>In a sentence or two.</summary>
    public required string Words { get; init; }
}

/// <summary>What there is to repair with.</summary>
public sealed record RepairMeans
{
    public required IReadOnlyList<SupplyItem> Cupboard { get; init; }
    public required IReadOnlyList<WaterSource> Waters { get; init; }
    public Tools Tools { get; init; } = new();

    /// <summary>The most the vessel holds, litres; water can only be added up to it. Null: nothing above what is in it.</summary>
    public double? VesselLitres { get; init; }
}

/// <summary>Repairs a can that reads wrong.</summary>
public static class CanRepair
{
    /// <summary>
    /// Finds what is most likely in the can from what the pens read, and plans the additions that bring it back into its bands without breaking a hard limit.
    /// </summary>
    /// <param name="plan">The can's card.</param>
    /// <param name="means">Cupboard, waters and tools.</param>
    /// <param name="measuredEcMicrosiemensPerCm">As the grower's own pen shows it; null where not read.</param>
    /// <param name="measuredPH">0 to 14; null where not read.</param>
    public static CanRepairResult Offer(CanPlan plan, RepairMeans means, double? measuredEcMicrosiemensPerCm, double? measuredPH) =>
        throw new NotSupportedException("Lands next.");
}
