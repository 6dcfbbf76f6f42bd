using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Rows;

/// <summary>What the pens read in a can.</summary>
public sealed class ReadingRow
{
    public Guid Id { get; set; }
    public Guid CanId { get; set; }
    public int? AfterStep { get; set; }
    public double? EcMicrosiemensPerCm { get; set; }
    public double? PH { get; set; }
    public double? TemperatureCelsius { get; set; }
    public string? Note { get; set; }
    public long RecordedMicroseconds { get; set; }
    public long Position { get; set; }

    /// <summary>The reading that put this one right; null while it counts.</summary>
    public Guid? CorrectedBy { get; set; }

    public CanReading ToReading() => new(
        Id, AfterStep, EcMicrosiemensPerCm, PH, TemperatureCelsius, DateTimeOffset.UnixEpoch.AddTicks(RecordedMicroseconds * TimeSpan.TicksPerMicrosecond), Note);
}
