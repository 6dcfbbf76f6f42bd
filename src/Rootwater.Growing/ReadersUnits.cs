namespace Rootwater.Growing;

/// <summary>The units a reader sees and types; what is kept is SI.</summary>
public sealed record ReadersUnits
{
    public VolumeUnit Volume { get; init; }
    public TemperatureUnit Temperature { get; init; }
    public EcScale Ec { get; init; }
    public HardnessUnit Hardness { get; init; }
}

/// <summary>Of cans and pots.</summary>
public enum VolumeUnit
{
    Litre,
    UsGallon,
}

/// <summary>Of air and water.</summary>
public enum TemperatureUnit
{
    Celsius,
    Fahrenheit,
}

/// <summary>How a pen's conductivity is shown; a ppm scale is always named by its factor.</summary>
public enum EcScale
{
    MillisiemensPerCm,
    Ppm500,
    Ppm640,
    Ppm700,
}

/// <summary>Of hardness and alkalinity.</summary>
public enum HardnessUnit
{
    GermanDegree,
    MilligramsPerLitreCaCO3,
}
