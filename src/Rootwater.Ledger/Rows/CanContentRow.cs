using Rootwater.Growing;

namespace Rootwater.Ledger.Rows;

/// <summary>What a can gives a plant, in few bytes: the nutrient ledger of ten years reads thousands of these and no card.</summary>
public sealed class CanContentRow
{
    public Guid CanId { get; set; }
    public required string Letter { get; set; }

    /// <summary>As on its card, mg/L.</summary>
    public required NutrientAmounts MgPerLitre { get; set; }

    /// <summary>At 25 °C; measured in the finished can where it was measured, else as expected.</summary>
    public double EcMicrosiemensPerCm { get; set; }

    /// <summary>Likewise.</summary>
    public double PH { get; set; }
}
