using Rootwater.Growing.Mixing.Reconciliation;

namespace Rootwater.Ledger.Facts;

/// <summary>A pen as it is known from now on. Subject: the pen. Said again, the later one counts.</summary>
[FactKind("pen.set", 1)]
public sealed record PenSet(Pen Pen) : FactPayload;

/// <summary>A pen was held into what is known. Subject: the pen.</summary>
/// <param name="PenId">The pen.</param>
/// <param name="Standards">What was read in each buffer or standard before anything was adjusted, in the order they were used; at least one.</param>
/// <param name="Adjusted">The pen was set to them afterwards: what was known of its error is over.</param>
/// <param name="Note">In the grower's words: a new electrode, an old bottle.</param>
[FactKind("pen.calibrated", 1)]
public sealed record PenCalibrated(Guid PenId, IReadOnlyList<StandardRead> Standards, bool Adjusted, string? Note) : FactPayload;

/// <summary>One buffer or standard.</summary>
/// <param name="StandardAt25">As printed for 25 °C: a pH, or µS/cm.</param>
/// <param name="Reading">As the pen showed it before adjusting: a pH, or µS/cm at the pen's reference temperature.</param>
/// <param name="TemperatureCelsius">Of the standard, 5 to 40.</param>
public sealed record StandardRead(double StandardAt25, double Reading, double TemperatureCelsius);
