namespace Rootwater.Ledger.Facts;

/// <summary>What fills a water: the roof that drains into it and what its barrels hold. Subject: the water. The latest stands.</summary>
/// <param name="WaterId">The water.</param>
/// <param name="RoofSquareMetres">Seen from above, 0.1 to 10,000 m².</param>
/// <param name="BarrelLitres">1 to 1,000,000 L.</param>
/// <param name="RunOffShare">Share of the rain that reaches the barrel, 0.05 to 1.</param>
[FactKind("water.roof", 1)]
public sealed record WaterRoof(Guid WaterId, double RoofSquareMetres, double BarrelLitres, double RunOffShare) : FactPayload;

/// <summary>How much of a water there is, from looking. Subject: the water. The latest stands.</summary>
[FactKind("water.level", 1)]
public sealed record WaterLevelSeen(Guid WaterId, double Litres) : FactPayload;

/// <summary>Rain of past days. Subject: the bench. Of a day told twice the later telling stands.</summary>
/// <param name="Days">Millimetres by day, 0 to 500.</param>
/// <param name="From">Whose record: "gauge on the roof", "the weather service's station".</param>
[FactKind("rain.recorded", 1)]
public sealed record RainRecorded(IReadOnlyList<RainDay> Days, string? From) : FactPayload;

/// <summary>A day's rain, mm.</summary>
public sealed record RainDay(DateOnly Day, double Millimetres);
