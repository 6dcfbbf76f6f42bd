using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A day of air and light at a place.</summary>
public sealed class AirDayRow
{
    public Guid FactId { get; set; }
    public Guid PlaceId { get; set; }
    public DateOnly Day { get; set; }
    public ReadingFrom From { get; set; }
    public required IReadOnlyList<AirSample> Samples { get; set; }
}
