using Rootwater.Growing;

namespace Rootwater.Ledger.Desks;

/// <summary>Water through the year: reports over time, how it is blended, the acid it needs, whether it has drifted, and how far the rain goes.</summary>
public interface IWaterYearDesk
{
    /// <summary>The waters over time and the months of the last thirteen.</summary>
    Task<WaterYearSheet> GetAsync(CancellationToken cancel = default);

    /// <summary>Rain against the coming rounds. What is missing to say it is said.</summary>
    /// <param name="days">How far ahead, 7 to 365.</param>
    /// <param name="cancel">Stops it.</param>
    Task<RainSheet> RainAsync(int days = RainSheet.UsualDays, CancellationToken cancel = default);

    /// <summary>Both for a page, over the usual days: what is in hand, at once, and whether it is behind the ledger and being worked out again.</summary>
    Task<InHand<WaterYearLook>> LookAsync(CancellationToken cancel = default);

    /// <summary>Says what fills a water.</summary>
    Task SetRoofAsync(RoofEntry roof, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>How much of a water there is, from looking, litres.</summary>
    Task SetLevelAsync(Guid waterId, double litres, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>A rain record as CSV: a day and millimetres in each line, with or without headings; comma, semicolon or tab; decimal comma where the separator is none.</summary>
    /// <param name="csv">The text.</param>
    /// <param name="from">Whose record.</param>
    /// <param name="write">False only looks.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="EntryException">Nothing in it can be read.</exception>
    Task<RainImport> ImportRainAsync(string csv, string? from = null, bool write = false, CancellationToken cancel = default);
}

/// <summary>What fills a water.</summary>
/// <param name="WaterId">The water.</param>
/// <param name="RoofSquareMetres">Seen from above, 0.1 to 10,000 m².</param>
/// <param name="BarrelLitres">1 to 1,000,000 L.</param>
/// <param name="RunOffShare">Share of the rain that reaches the barrel, 0.05 to 1; 0.8 is common practice, no source.</param>
public sealed record RoofEntry(Guid WaterId, double RoofSquareMetres, double BarrelLitres, double RunOffShare = 0.8);

/// <summary>Water through the year.</summary>
public sealed record WaterYearSheet
{
    public required DateOnly AsOf { get; init; }

    /// <summary>What the acid is reckoned to.</summary>
    public required double ToPH { get; init; }
    public required IReadOnlyList<WaterOverTime> Waters { get; init; }

    /// <summary>Months with cans in them, oldest first.</summary>
    public required IReadOnlyList<WaterMonth> Months { get; init; }
    public required IReadOnlyList<string> Words { get; init; }
}

/// <summary>One water.</summary>
public sealed record WaterOverTime
{
    public required Guid Id { get; init; }
    public required string Name { get; init; }

    /// <summary>Oldest first.</summary>
    public required IReadOnlyList<ReportPoint> Reports { get; init; }

    /// <summary>Strong acid that brings a litre to <see cref="WaterYearSheet.ToPH"/>, sealed, meq/L, by its newest report; below zero it would need a base.</summary>
    public required double? AcidMeqPerLitre { get; init; }

    /// <summary>What cans say of it against its newest report; empty where no can was read.</summary>
    public required IReadOnlyList<WaterDrift> Drift { get; init; }
}

/// <param name="On">Sampled.</param>
/// <param name="EcMicrosiemensPerCm">At 25 °C.</param>
/// <param name="AlkalinityMeqPerLitre">As read from the report.</param>
/// <param name="PH">As reported or found.</param>
/// <param name="From">Who measured.</param>
public sealed record ReportPoint(DateOnly On, double? EcMicrosiemensPerCm, double? AlkalinityMeqPerLitre, double? PH, string? From);

/// <summary>What the readings of cans say of a water.</summary>
/// <param name="What">"strength" or "alkalinity".</param>
/// <param name="Value">With 95 % band: a share, or meq/L.</param>
/// <param name="Unit">"share" or "meq/L".</param>
/// <param name="Cans">In how many cans it had a part.</param>
/// <param name="IsTold">The band leaves zero out: the report no longer holds.</param>
/// <param name="Words">In a sentence.</param>
public sealed record WaterDrift(string What, Expected Value, string Unit, int Cans, bool IsTold, string Words);

/// <summary>A month's cans.</summary>
/// <param name="Month">Its first day.</param>
/// <param name="Litres">Of all water in them.</param>
/// <param name="Shares">Of each water, by name.</param>
/// <param name="AlkalinityMeqPerLitre">Of the blend, by the reports in force.</param>
/// <param name="AcidNeedMeqPerLitre">To bring the blend alone to the pH, meq/L.</param>
/// <param name="AcidUsedMeqPerLitre">What acids and bases really went in, meq of alkalinity taken away per litre: feeds and salts bring some of it themselves.</param>
public sealed record WaterMonth(DateOnly Month, double Litres, IReadOnlyList<WaterShare> Shares, double AlkalinityMeqPerLitre, double AcidNeedMeqPerLitre, double AcidUsedMeqPerLitre);

/// <param name="Name">The water.</param>
/// <param name="Share">0 to 1.</param>
public sealed record WaterShare(string Name, double Share);

/// <summary>The waters and their rain, looked at together.</summary>
public sealed record WaterYearLook(WaterYearSheet Year, RainSheet Rain);

/// <summary>The rain budget.</summary>
public sealed record RainSheet
{
    /// <summary>How far it looks where nobody says.</summary>
    public const int UsualDays = 90;

    public required DateOnly AsOf { get; init; }

    /// <summary>The water that rain fills; null where there is none.</summary>
    public required Guid? WaterId { get; init; }
    public required string? WaterName { get; init; }
    public required RoofEntry? Roof { get; init; }

    /// <summary>When it was looked, and what was there; null where nobody looked.</summary>
    public required DateOnly? LevelOn { get; init; }
    public required double? LitresThere { get; init; }

    /// <summary>Days with a record.</summary>
    public required int RecordDays { get; init; }
    public required DateOnly? RecordFrom { get; init; }
    public required DateOnly? RecordTo { get; init; }

    /// <summary>What the coming rounds take of it, litres a week on average.</summary>
    public required double WantedLitresPerWeek { get; init; }

    /// <summary>What a roof of this size gives in a mean year of the record, litres a week.</summary>
    public required double? GivenLitresPerWeek { get; init; }

    /// <summary>What is in the barrels by day: 10, 50, 90 % of the years on record, litres. Empty while something is missing.</summary>
    public required IReadOnlyList<RainLevel> Levels { get; init; }
    public required double? ChanceOfEmpty { get; init; }

    /// <summary>The earliest day on which it runs dry in one year of ten.</summary>
    public required DateOnly? EmptyFrom { get; init; }

    /// <summary>What other water would be needed, litres.</summary>
    public required Expected? ShortLitres { get; init; }
    public required int Years { get; init; }

    /// <summary>What has to be entered first.</summary>
    public required IReadOnlyList<string> Missing { get; init; }
    public required IReadOnlyList<string> Words { get; init; }
}

public sealed record RainLevel(DateOnly Day, Expected Litres);

/// <summary>A rain record as read.</summary>
/// <param name="Days">How many days.</param>
/// <param name="From">The first.</param>
/// <param name="To">The last.</param>
/// <param name="MillimetresPerYear">Mean, if they are spread over the year.</param>
/// <param name="Problems">Lines that were left out, and why.</param>
/// <param name="Written">It is in the ledger now.</param>
public sealed record RainImport(int Days, DateOnly From, DateOnly To, double MillimetresPerYear, IReadOnlyList<string> Problems, bool Written);
