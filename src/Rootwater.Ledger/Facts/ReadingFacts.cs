namespace Rootwater.Ledger.Facts;

/// <summary>What a reading is of. Cans have their own (can.read).</summary>
public enum ReadingOf
{
    /// <summary>A syringe sample of a pot's reservoir.</summary>
    Reservoir,

    /// <summary>What ran out below.</summary>
    Runoff,

    /// <summary>A soak of bare medium.</summary>
    Soak,
    Air,
    Light,
}

/// <summary>Where a reading comes from.</summary>
public enum ReadingFrom
{
    Typed,
    Probe,
    Logger,
}

/// <summary>
/// A reading of a pot (subject: the plant) or of a place (subject: the place). What is null was not read; at least one value is there.
/// EC in µS/cm at 25 °C, 0 to 50,000; pH 0 to 14; °C −20 to 60; relative humidity and level 0 to 1; PPFD µmol m⁻² s⁻¹; lux.
/// </summary>
[FactKind("reading.taken", 1)]
public sealed record ReadingTaken : FactPayload
{
    public required Guid ReadingId { get; init; }
    public required ReadingOf Of { get; init; }
    public ReadingFrom From { get; init; }
    public Guid? PlantId { get; init; }
    public Guid? PotId { get; init; }
    public Guid? PlaceId { get; init; }
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }
    public double? TemperatureCelsius { get; init; }

    /// <summary>What the reservoir still holds as a share of full.</summary>
    public double? LevelShare { get; init; }
    public double? RelativeHumidity { get; init; }
    public double? PpfdMicromolesPerSquareMetrePerSecond { get; init; }
    public double? Lux { get; init; }
    public string? Note { get; init; }
}

/// <summary>A day of air and light at a place from a logger or probe. Subject: the place. Minutes are of the local day, rising; a null was not read.</summary>
[FactKind("air.day", 1)]
public sealed record AirDay(Guid PlaceId, DateOnly Day, ReadingFrom From, IReadOnlyList<AirSample> Samples) : FactPayload;

/// <summary>Air and light at a minute of the local day (0 to 1,439).</summary>
public sealed record AirSample(int Minute, double? TemperatureCelsius, double? RelativeHumidity, double? PpfdMicromolesPerSquareMetrePerSecond, double? Lux);

/// <summary>
/// Bare medium stood in a known water and was read. Subject: the soak. Litres above 0 to 200; hours 1 to 720; °C 5 to 40; EC in µS/cm at 25 °C, 0 to 20,000; pH 2 to 12;
/// alkalinity −5 to 50 meq/L; at least one of the three was read.
/// </summary>
/// <param name="SoakId">The soak.</param>
/// <param name="Medium">By its name.</param>
/// <param name="MediumLitres">Medium soaked.</param>
/// <param name="WaterLitres">Water it stood in.</param>
/// <param name="WaterId">Which water; null for pure water.</param>
/// <param name="Hours">How long.</param>
/// <param name="Celsius">How warm.</param>
/// <param name="EcMicrosiemensPerCm">At the end; null where not read.</param>
/// <param name="PH">Likewise.</param>
/// <param name="AlkalinityMeqPerLitre">Likewise.</param>
[FactKind("medium.soaked", 1)]
public sealed record MediumSoaked(
    Guid SoakId, string Medium, double MediumLitres, double WaterLitres, Guid? WaterId, double Hours, double Celsius, double? EcMicrosiemensPerCm, double? PH, double? AlkalinityMeqPerLitre) : FactPayload;
