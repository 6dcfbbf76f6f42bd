using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Readings of pots and of the air.</summary>
public interface IReadingDesk
{
    /// <summary>Oldest first, those taken back left out.</summary>
    Task<IReadOnlyList<ReadingView>> ListAsync(ReadingQuery query, CancellationToken cancel = default);

    /// <summary>Air and light of a place by day.</summary>
    Task<IReadOnlyList<AirDayView>> AirAsync(Guid placeId, DateOnly from, DateOnly to, CancellationToken cancel = default);

    /// <summary>The fact that tells a place's day as a logger or a probe read it, to be corrected when more of the day is known; null where there is none.</summary>
    Task<AirDayOnRecord?> AirDayAsync(Guid placeId, DateOnly day, ReadingFrom from, CancellationToken cancel = default);

    /// <summary>What a plant wants at its root and of its feed, to be drawn behind its readings; null where no want was chosen.</summary>
    Task<PlantWindow?> WindowAsync(Guid plantId, CancellationToken cancel = default);

    /// <summary>What a logger's file would add; nothing is written.</summary>
    Task<LoggerPreview> PreviewLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default);

    /// <summary>Adds a logger's file; a day that stands there already is replaced by a correcting fact.</summary>
    Task<LoggerPreview> ImportLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default);
}

/// <summary>A day of air as it stands in the ledger.</summary>
/// <param name="FactId">What a better telling corrects.</param>
/// <param name="Samples">As kept.</param>
public sealed record AirDayOnRecord(Guid FactId, IReadOnlyList<AirSample> Samples);

/// <summary>A plant's own window.</summary>
/// <param name="Want">By which it is fed.</param>
/// <param name="RootPH">pH at the root.</param>
/// <param name="EcMicrosiemensPerCm">Of the feed as poured, at 25 °C.</param>
/// <param name="Source">Published source, or "common practice, no source".</param>
public sealed record PlantWindow(string Want, Band RootPH, Band EcMicrosiemensPerCm, string Source);

/// <summary>Which readings. What is null does not narrow.</summary>
public sealed record ReadingQuery
{
    public Guid? PlantId { get; init; }
    public Guid? PlaceId { get; init; }
    public ReadingOf? Of { get; init; }
    public DateOnly? From { get; init; }
    public DateOnly? To { get; init; }
    public int Most { get; init; } = 1000;
}

/// <summary>A reading as kept.</summary>
public sealed record ReadingView
{
    public required Guid Id { get; init; }

    /// <summary>The fact that tells it; what puts it right corrects this.</summary>
    public Guid FactId { get; init; }
    public required ReadingOf Of { get; init; }
    public required ReadingFrom From { get; init; }
    public required DateTime At { get; init; }
    public Guid? PlantId { get; init; }
    public int? PlantNumber { get; init; }
    public Guid? PotId { get; init; }
    public Guid? PlaceId { get; init; }
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }
    public double? TemperatureCelsius { get; init; }
    public double? LevelShare { get; init; }
    public double? RelativeHumidity { get; init; }
    public double? PpfdMicromolesPerSquareMetrePerSecond { get; init; }
    public double? Lux { get; init; }
    public string? Note { get; init; }
}

/// <summary>A day of air and light.</summary>
/// <param name="Day">Local day.</param>
/// <param name="LowCelsius">Lowest temperature.</param>
/// <param name="MeanCelsius">Mean.</param>
/// <param name="HighCelsius">Highest.</param>
/// <param name="MeanVpdKilopascals">Mean vapour pressure deficit of the air.</param>
/// <param name="DailyLightMolesPerSquareMetre">Daily light integral; null where light was not read.</param>
/// <param name="Samples">What it rests on.</param>
public sealed record AirDayView(DateOnly Day, double? LowCelsius, double? MeanCelsius, double? HighCelsius, double? MeanVpdKilopascals, double? DailyLightMolesPerSquareMetre, IReadOnlyList<AirSample> Samples);

/// <summary>Which column of a logger's file is what.</summary>
public sealed record LoggerMapping
{
    public required Guid PlaceId { get; init; }
    public required string TimeColumn { get; init; }

    /// <summary>.NET format of the time; ISO 8601 when null.</summary>
    public string? TimeFormat { get; init; }
    public string? TemperatureColumn { get; init; }
    public bool TemperatureIsFahrenheit { get; init; }

    /// <summary>In per cent.</summary>
    public string? HumidityColumn { get; init; }
    public string? PpfdColumn { get; init; }
    public string? LuxColumn { get; init; }
    public char Separator { get; init; } = ',';
}

/// <summary>What a logger's file holds.</summary>
public sealed record LoggerPreview(int Rows, int Days, DateOnly? First, DateOnly? Last, IReadOnlyList<string> Problems);
