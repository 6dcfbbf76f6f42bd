namespace Rootwater.Growing.Waters;

/// <summary>How a value of a completed water came about.</summary>
public enum WaterValueOrigin
{
    /// <summary>As the report says.</summary>
    Measured,

    /// <summary>As the report says, moved a little so that the charges balance.</summary>
    Adjusted,

    /// <summary>Computed from what the report says (magnesium from hardness less calcium).</summary>
    Derived,

    /// <summary>Supposed, by the stated rule; only its band means anything.</summary>
    Estimated,
}

/// <summary>One substance of a completed water.</summary>
/// <param name="Quantity">Which; alkalinity is among them, in meq/L.</param>
/// <param name="MmolPerLitre">Best value.</param>
/// <param name="Low">5th percentile, mmol/L.</param>
/// <param name="High">95th percentile, mmol/L.</param>
/// <param name="Origin">How it came about.</param>
public sealed record WaterValue(WaterQuantity Quantity, double MmolPerLitre, double Low, double High, WaterValueOrigin Origin)
{
    /// <summary>As the ion, mg/L; null for alkalinity.</summary>
    public double? MgPerLitre => WaterIon.Find(Quantity) is { } ion ? MmolPerLitre * ion.IonGramsPerMole : null;
}

/// <summary>A report made whole: everything the chemistry needs, with what was estimated and how well it is known.</summary>
public sealed record CompletedWater
{
    /// <summary>For the planner; null when there is an error.</summary>
    public required WaterSource? Source { get; init; }

    /// <summary>Every substance and the alkalinity, measured ones first.</summary>
    public required IReadOnlyList<WaterValue> Values { get; init; }

    public required double PH { get; init; }

    /// <summary>At 25 °C, computed from what it holds, µS/cm.</summary>
    public required double EcMicrosiemensPerCm { get; init; }

    /// <summary>Cations less anions as reported, in percent of their sum; null where the report leaves ions out and the question does not arise.</summary>
    public required double? ChargeImbalancePercent { get; init; }

    /// <summary>Errors, warnings and notes: what was assumed, adjusted, estimated, and what the water itself says (softened, metals, cold).</summary>
    public required IReadOnlyList<InputProblem> Problems { get; init; }

    public double HardnessMmolPerLitre => Of(WaterQuantity.Calcium) + Of(WaterQuantity.Magnesium);

    public double AlkalinityMeqPerLitre => Of(WaterQuantity.Alkalinity);

    private double Of(WaterQuantity quantity) => Values.FirstOrDefault(value => value.Quantity == quantity)?.MmolPerLitre ?? 0;
}
