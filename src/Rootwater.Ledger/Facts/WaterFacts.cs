using Rootwater.Growing.Waters;
using Rootwater.Ledger.Desks;

namespace Rootwater.Ledger.Facts;

/// <summary>A water to draw on.</summary>
[FactKind("water.set", 1)]
public sealed record WaterSet(Guid WaterId, string Name, double? AvailableLitres, decimal PricePerLitre) : FactPayload;

/// <summary>A report of a water: as printed, and as it was read on the day, so that a later reading of the same lines changes no old can.</summary>
[FactKind("water.reported", 1)]
public sealed record WaterReported(
    Guid ReportId, Guid WaterId, IReadOnlyList<ReportedValue> Values, WaterOrigin Origin, double TemperatureCelsius, string? From,
    WaterSource Source, double? PH, double? EcMicrosiemensPerCm, double? AlkalinityMeqPerLitre, double? ChargeImbalancePercent) : FactPayload;
