namespace Rootwater.Ledger.Desks;

/// <summary>The year ahead and behind: when in the year things happen to each plant and kind, when they are to be expected next and how good such forecasts were, rests, and a watch on the climate.</summary>
public interface ISeasonDesk
{
    /// <summary>Seasons, forecasts and rests. Worked out once for each state of the ledger.</summary>
    Task<SeasonSheet> GetAsync(CancellationToken cancel = default);

    /// <summary>What the air and the pots were like, by place, over the last year.</summary>
    Task<IReadOnlyList<ClimateWatch>> ClimateAsync(CancellationToken cancel = default);
}

/// <summary>What a season is of.</summary>
public enum SeasonMark
{
    Spike,
    Sheath,
    Bloom,
    NewRoots,
    LeafFall,
}

/// <summary>What a forecast rests on.</summary>
public enum ForecastBy
{
    /// <summary>Days of weather that bring on spikes, for kinds where a paper gives it.</summary>
    Temperature,

    /// <summary>A spike that shows now and how long earlier ones took.</summary>
    OpenSpike,

    /// <summary>Its own past seasons.</summary>
    OwnSeasons,

    /// <summary>Those of its kind on this bench: it has too few of its own.</summary>
    KindSeasons,
}

/// <summary>Seasons of the bench.</summary>
/// <param name="AsOf">Today on the bench.</param>
/// <param name="Plants">By plant and mark, plants by number.</param>
/// <param name="Kinds">By kind and mark.</param>
/// <param name="Forecasts">What is to be expected within a year, soonest first.</param>
/// <param name="Records">How good such forecasts were, by mark and basis.</param>
/// <param name="Rests">By kind.</param>
/// <param name="Method">Method, assumptions and n, in sentences.</param>
public sealed record SeasonSheet(
    DateOnly AsOf, IReadOnlyList<SeasonLine> Plants, IReadOnlyList<SeasonLine> Kinds, IReadOnlyList<SeasonForecast> Forecasts, IReadOnlyList<ForecastHits> Records, IReadOnlyList<RestLine> Rests, IReadOnlyList<string> Method);

/// <summary>When in the year something happens.</summary>
/// <param name="Mark">What.</param>
/// <param name="Plant">To which plant; null for a kind.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Times">Seasons it stands on.</param>
/// <param name="MeanDayOfYear">Circular mean, 1 to 366; null where the dates cancel.</param>
/// <param name="BandDays">Half the width of the band in which the next falls nine times in ten, days; null with fewer than three dates or no season.</param>
/// <param name="Concentration">Length of the mean vector: 1 all at once, 0 all round the year.</param>
/// <param name="Words">In a sentence.</param>
public sealed record SeasonLine(SeasonMark Mark, PlantRef? Plant, string Kind, int Times, double? MeanDayOfYear, double? BandDays, double Concentration, string Words);

/// <summary>What is to be expected of a plant. A forecast: never to be drawn so that it could be taken for what happened.</summary>
/// <param name="Plant">The plant.</param>
/// <param name="Mark">Spike, sheath or bloom.</param>
/// <param name="Early">Lower end of its band, 90 %.</param>
/// <param name="Middle">The middle.</param>
/// <param name="Late">Upper end.</param>
/// <param name="By">What it rests on.</param>
/// <param name="Why">In words.</param>
public sealed record SeasonForecast(PlantRef Plant, SeasonMark Mark, DateOnly Early, DateOnly Middle, DateOnly Late, ForecastBy By, string Why);

/// <summary>The record of hits of one sort of forecast: what it would have said at the time, from what was known then, beside what came.</summary>
/// <param name="Mark">Of what.</param>
/// <param name="By">On what basis.</param>
/// <param name="Judged">Forecasts that came due.</param>
/// <param name="Hits">Within their band.</param>
/// <param name="Low95">What that says of the true share, lower end; null with none judged.</param>
/// <param name="High95">Upper end.</param>
/// <param name="MeanErrorDays">Came less middle, days; null where nothing came.</param>
/// <param name="Words">In a sentence.</param>
public sealed record ForecastHits(SeasonMark Mark, ForecastBy By, int Judged, int Hits, double? Low95, double? High95, double? MeanErrorDays, string Words);

/// <summary>Rests of a kind.</summary>
/// <param name="Kind">As plants are entered.</param>
/// <param name="Plants">So many stand here.</param>
/// <param name="Usual">What its kind does by the table: "dry rest, October to February", or that it grows on.</param>
/// <param name="Told">Rests told of on this bench.</param>
/// <param name="BeginsDayOfYear">Circular mean of their beginnings; null with none.</param>
/// <param name="EndsDayOfYear">Of their ends.</param>
/// <param name="RestingNow">Plants of it that rest now.</param>
/// <param name="Source">Where the usual is from.</param>
public sealed record RestLine(string Kind, int Plants, string Usual, int Told, double? BeginsDayOfYear, double? EndsDayOfYear, int RestingNow, string Source);

/// <summary>The climate of a place.</summary>
public sealed record ClimateWatch
{
    public required Guid PlaceId { get; init; }
    public required string Place { get; init; }

    /// <summary>Days with temperatures over the last 365.</summary>
    public required int DaysRead { get; init; }

    /// <summary>Lowest of the air over the last 365 days, °C; null where none was read.</summary>
    public double? LowestCelsius { get; init; }
    public DateOnly? LowestOn { get; init; }

    /// <summary>Lowest measured in the pots that stand here (reservoir, run-off or probe), °C; null where none was read. Wet clay runs cooler than the air.</summary>
    public double? RootLowestCelsius { get; init; }
    public DateOnly? RootLowestOn { get; init; }

    /// <summary>Days over the last 30 on which the air, or a pot, was below <see cref="ColdRootCelsius"/>.</summary>
    public required int ColdDaysOf30 { get; init; }

    /// <summary>Days with light over the last 30.</summary>
    public required int DaysLitOf30 { get; init; }
    public required IReadOnlyList<GenusWatch> Genera { get; init; }

    /// <summary>Below this roots of warm and intermediate kinds stand still (common practice, no source).</summary>
    public const double ColdRootCelsius = 15;
}

/// <summary>What a place's climate means for a genus that stands there.</summary>
/// <param name="Genus">The genus.</param>
/// <param name="InductionHours">Hours of the last 120 days within the temperatures that bring on its spikes; null where no paper gives them.</param>
/// <param name="InductionHoursRead">Hours read in that time.</param>
/// <param name="InductiveDays">Days of such weather in the same time.</param>
/// <param name="InductionRange">"14 to 23 °C".</param>
/// <param name="ShadeLimitPpfd">µmol m⁻² s⁻¹ held for an hour; null where nobody gives one.</param>
/// <param name="DaysAboveShade30">Days of the last 30 above it; null where light was not read or there is no limit.</param>
/// <param name="DaysAboveShade365">Of the last 365.</param>
/// <param name="Sources">Where the figures are from.</param>
public sealed record GenusWatch(
    string Genus, double? InductionHours, double? InductionHoursRead, int? InductiveDays, string? InductionRange, double? ShadeLimitPpfd, int? DaysAboveShade30, int? DaysAboveShade365, IReadOnlyList<string> Sources);
