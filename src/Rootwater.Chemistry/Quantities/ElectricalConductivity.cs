namespace Rootwater.Chemistry.Quantities;

/// <summary>The scales a conductivity meter may show. The "ppm" of a meter is EC times a convention, never a mass: three conventions are about, so a bare ppm is refused.</summary>
public enum ConductivityScale
{
    /// <summary>µS/cm.</summary>
    MicrosiemensPerCm,

    /// <summary>mS/cm (also called dS/m or mmho/cm; the same number).</summary>
    MillisiemensPerCm,

    /// <summary>Meter ppm, 500 for 1 mS/cm ("0.5", near sodium chloride).</summary>
    Ppm500,

    /// <summary>Meter ppm, 640 for 1 mS/cm ("0.64", the agricultural convention).</summary>
    Ppm640,

    /// <summary>Meter ppm, 700 for 1 mS/cm ("0.7", near the 442 mixture).</summary>
    Ppm700,
}

/// <summary>What one unit of each <see cref="ConductivityScale"/> is.</summary>
public static class ConductivityScales
{
    /// <summary>µS/cm in one unit of the scale.</summary>
    public static double MicrosiemensPerCmInOne(this ConductivityScale scale) => scale switch
    {
        ConductivityScale.MicrosiemensPerCm => 1,
        ConductivityScale.MillisiemensPerCm => 1000,
        ConductivityScale.Ppm500 => 1000.0 / 500,
        ConductivityScale.Ppm640 => 1000.0 / 640,
        ConductivityScale.Ppm700 => 1000.0 / 700,
        _ => throw new ArgumentOutOfRangeException(nameof(scale), scale, "Not a known scale."),
    };
}

/// <summary>An electrical conductivity (EC) at, or compensated to, 25 °C.</summary>
public readonly record struct ElectricalConductivity : IComparable<ElectricalConductivity>
{
    private ElectricalConductivity(double microsiemensPerCm) => MicrosiemensPerCm = microsiemensPerCm;

    /// <summary>µS/cm.</summary>
    public double MicrosiemensPerCm { get; }

    /// <summary>mS/cm.</summary>
    public double MillisiemensPerCm => In(ConductivityScale.MillisiemensPerCm);

    /// <summary>From a value on a scale.</summary>
    public static ElectricalConductivity From(double value, ConductivityScale scale) => new(value * scale.MicrosiemensPerCmInOne());

    /// <summary>The value on a scale.</summary>
    public double In(ConductivityScale scale) => MicrosiemensPerCm / scale.MicrosiemensPerCmInOne();

    /// <inheritdoc/>
    public int CompareTo(ElectricalConductivity other) => MicrosiemensPerCm.CompareTo(other.MicrosiemensPerCm);
}
