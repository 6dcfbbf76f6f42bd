namespace Rootwater.Ledger.Desks;

/// <summary>Reads a report entry with what the growing floor knows of waters.</summary>
internal static class WaterReports
{
    public static WaterReportPreview Read(NewWaterReport report) => throw new NotSupportedException("Lands with Waters.WaterReport.");
}
