using System.Globalization;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Rows;

/// <summary>A reading of a pot or of a place. Those of cans are in <see cref="ReadingRow"/>.</summary>
public sealed class TakenReadingRow
{
    public Guid Id { get; set; }
    public Guid FactId { get; set; }
    public ReadingOf Of { get; set; }
    public ReadingFrom From { get; set; }

    /// <summary>Local minute as text that sorts.</summary>
    public required string At { get; set; }
    public Guid? PlantId { get; set; }
    public Guid? PotId { get; set; }
    public Guid? PlaceId { get; set; }
    public double? EcMicrosiemensPerCm { get; set; }
    public double? PH { get; set; }
    public double? TemperatureCelsius { get; set; }
    public double? LevelShare { get; set; }
    public double? RelativeHumidity { get; set; }
    public double? PpfdMicromolesPerSquareMetrePerSecond { get; set; }
    public double? Lux { get; set; }
    public string? Note { get; set; }

    public DateTime AtLocal => DateTime.ParseExact(At, "yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);

    public ReadingView ToView(int? plantNumber) => new()
    {
        Id = Id,
        FactId = FactId,
        Of = Of,
        From = From,
        At = AtLocal,
        PlantId = PlantId,
        PlantNumber = plantNumber,
        PotId = PotId,
        PlaceId = PlaceId,
        EcMicrosiemensPerCm = EcMicrosiemensPerCm,
        PH = PH,
        TemperatureCelsius = TemperatureCelsius,
        LevelShare = LevelShare,
        RelativeHumidity = RelativeHumidity,
        PpfdMicromolesPerSquareMetrePerSecond = PpfdMicromolesPerSquareMetrePerSecond,
        Lux = Lux,
        Note = Note,
    };
}
