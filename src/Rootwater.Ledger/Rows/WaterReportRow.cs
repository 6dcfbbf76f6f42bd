using Rootwater.Growing.Waters;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Rows;

/// <summary>A report of a water, as printed and as read.</summary>
public sealed class WaterReportRow
{
    public Guid Id { get; set; }
    public Guid WaterId { get; set; }
    public DateOnly SampledOn { get; set; }

    /// <summary>Its place in the ledger, so that of two reports of one day the later written counts.</summary>
    public long Position { get; set; }
    public required IReadOnlyList<ReportedValue> Values { get; set; }
    public WaterOrigin Origin { get; set; }
    public double TemperatureCelsius { get; set; }
    public string? From { get; set; }
    public required WaterSource Source { get; set; }
    public double? PH { get; set; }
    public double? EcMicrosiemensPerCm { get; set; }
    public double? AlkalinityMeqPerLitre { get; set; }
    public double? ChargeImbalancePercent { get; set; }
}
