namespace Rootwater.Ledger.Rows;

/// <summary>That a plant was forgotten; its number is not given again.</summary>
public sealed class ForgottenPlantRow
{
    public Guid PlantId { get; set; }
    public int Number { get; set; }
}
