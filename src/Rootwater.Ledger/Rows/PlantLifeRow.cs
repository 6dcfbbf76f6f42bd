namespace Rootwater.Ledger.Rows;

/// <summary>Everything that was told of a plant but what it was given, its readings and its photos, as one JSON text: read whole by its page, never by lists.</summary>
public sealed class PlantLifeRow
{
    public Guid PlantId { get; set; }
    public required string Life { get; set; }

    /// <summary>Notes and names in lower case, to search in.</summary>
    public required string Words { get; set; }
}
