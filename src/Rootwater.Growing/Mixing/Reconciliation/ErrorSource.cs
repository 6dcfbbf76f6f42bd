namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What may be wrong with the same sign can after can.</summary>
public enum ErrorSourceKind
{
    /// <summary>A lot holds more or less than its label says: water drawn from the air, or a label rounded.</summary>
    LotStrength,

    /// <summary>A lot is more acid or more basic than its label lets one think; in its own stated spreads.</summary>
    LotAcidity,

    /// <summary>A scale weighs all doses too high or too low.</summary>
    Scale,

    /// <summary>A syringe or measuring glass, likewise.</summary>
    Syringe,

    /// <summary>A water carries more or less of everything than its report.</summary>
    WaterStrength,

    /// <summary>A water has more or less alkalinity than its report, meq/L.</summary>
    WaterAlkalinity,

    /// <summary>A vessel's mark stands too high or too low.</summary>
    Vessel,

    /// <summary>An EC pen reads everything by a factor.</summary>
    EcPen,

    /// <summary>A pH pen reads everything by an offset, pH.</summary>
    PHPenOffset,

    /// <summary>A pH pen's slope is off, relative; it counts by the distance from pH 7.</summary>
    PHPenSlope,
}

/// <summary>One thing that may be wrong: its kind and which one.</summary>
/// <param name="Kind">What sort.</param>
/// <param name="Id">Lot, scale, water, vessel or pen, as the caller names it.</param>
/// <param name="Name">For sentences.</param>
public sealed record ErrorSource(ErrorSourceKind Kind, string Id, string Name)
{
    public bool Equals(ErrorSource? other) => other is not null && Kind == other.Kind && Id == other.Id;

    public override int GetHashCode() => HashCode.Combine(Kind, Id);
}

/// <summary>How wrong each kind may be before anything was measured, one standard deviation, and how far it wanders.</summary>
/// <remarks>From memory unless the record of a can says otherwise (a product's and a water's own uncertainty); relative where not said.</remarks>
public sealed record ErrorSpreads
{
    public double Scale { get; init; } = 0.005;
    public double Syringe { get; init; } = 0.02;
    public double WaterAlkalinityMeqPerLitre { get; init; } = 0.15;
    public double Vessel { get; init; } = 0.015;
    public double EcPen { get; init; } = 0.02;
    public double PHPenOffset { get; init; } = 0.06;
    public double PHPenSlope { get; init; } = 0.02;

    /// <summary>How far each wanders in a month, in shares of its spread: pens and open bags move, a mark does not.</summary>
    public double WanderPerMonth(ErrorSourceKind kind, bool hygroscopic) => kind switch
    {
        ErrorSourceKind.LotStrength => hygroscopic ? 0.5 : 0.1,
        ErrorSourceKind.WaterStrength or ErrorSourceKind.WaterAlkalinity => 0.5,
        ErrorSourceKind.EcPen => 0.3,
        ErrorSourceKind.PHPenOffset or ErrorSourceKind.PHPenSlope => 0.5,
        _ => 0.02,
    };

    /// <summary>Scatter of a can's fill about its vessel's mark.</summary>
    public double FillPerCan { get; init; } = 0.01;

    /// <summary>Scatter of one EC reading: bottles and pens of the trade promise 1 to 2 %, a rinsed pen repeats to about 1 %.</summary>
    public double EcReading { get; init; } = 0.01;

    /// <summary>The last digit a pen shows, µS/cm: what is rounded away lies evenly within it.</summary>
    public double EcPenStepMicrosiemensPerCm { get; init; } = 10;

    /// <summary>Scatter of one pH reading.</summary>
    public double PHReading { get; init; } = 0.04;
}
