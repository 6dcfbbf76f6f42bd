using Rootwater.Growing.Waters;

namespace Rootwater.Ledger.Desks;

/// <summary>The waters there are and what reports say of them.</summary>
public interface IWaterDesk
{
    /// <summary>All waters with their reports, newest report first.</summary>
    Task<IReadOnlyList<WaterView>> ListAsync(CancellationToken cancel = default);

    /// <summary>One water; null when there is none of that id.</summary>
    Task<WaterView?> GetAsync(Guid waterId, CancellationToken cancel = default);

    /// <summary>Adds a water, or edits the one of the same id.</summary>
    Task<WaterView> SaveWaterAsync(NewWater water, CancellationToken cancel = default);

    /// <summary>Reads a report without keeping it: what the water is taken to hold, what was estimated, how far charges are apart.</summary>
    WaterReportPreview Preview(NewWaterReport report);

    /// <summary>Adds a report; from its date on the water is what it says.</summary>
    Task<WaterView> AddReportAsync(NewWaterReport report, CancellationToken cancel = default);
}

/// <summary>A water as entered.</summary>
public sealed record NewWater
{
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required string Name { get; init; }

    /// <summary>How much there is to draw on, litres; null for as much as one likes.</summary>
    public double? AvailableLitres { get; init; }
    public decimal PricePerLitre { get; init; }
}

/// <summary>One line of a report as printed: ("Ca", 92, "mg/L"), ("alkalinity", 4.1, "mmol/L"), ("KH", 11, "dKH"), ("pH", 7.4, ""), ("EC", 560, "µS/cm").</summary>
public sealed record ReportedValue(string What, double Value, string Unit);

/// <summary>A report as entered: any subset of what a laboratory, or an EC pen and drops, can tell.</summary>
public sealed record NewWaterReport
{
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid WaterId { get; init; }
    public required DateOnly SampledOn { get; init; }
    public required IReadOnlyList<ReportedValue> Values { get; init; }

    /// <summary>Where the water comes from, which says what to suppose where the report is silent.</summary>
    public WaterOrigin Origin { get; init; }

    /// <summary>Of the water when measured, °C.</summary>
    public double TemperatureCelsius { get; init; } = 25;

    /// <summary>Who measured it: "supplier's yearly report", "pen and drops".</summary>
    public string? From { get; init; }
}

/// <summary>What a report comes to.</summary>
public sealed record WaterReportPreview
{
    /// <summary>Null when it cannot be read; <see cref="Problems"/> says why.</summary>
    public required WaterSource? Source { get; init; }
    public required double? PH { get; init; }

    /// <summary>At 25 °C, µS/cm, computed from what it holds.</summary>
    public required double? EcMicrosiemensPerCm { get; init; }
    public required double? AlkalinityMeqPerLitre { get; init; }

    /// <summary>Cations less anions as reported, percent of their sum; null where the report is too partial to say.</summary>
    public required double? ChargeImbalancePercent { get; init; }
    public required IReadOnlyList<EntryProblem> Problems { get; init; }

    /// <summary>Estimated values, softened water, metals from the roof … in words.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}

/// <summary>A kept report, as printed and as read.</summary>
public sealed record WaterReportView(NewWaterReport Entry, WaterReportPreview Read);

/// <summary>A water with its reports.</summary>
public sealed record WaterView
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }
    public required double? AvailableLitres { get; init; }
    public required decimal PricePerLitre { get; init; }

    /// <summary>As the planner sees it by the newest report; null without any report.</summary>
    public required WaterSource? Source { get; init; }

    /// <summary>Newest first.</summary>
    public required IReadOnlyList<WaterReportView> Reports { get; init; }
}
