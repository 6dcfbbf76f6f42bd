using Rootwater.Growing;

namespace Rootwater.Ledger.Desks;

/// <summary>"What did you give it?": what was tried on a plant, in words and figures that can be passed on.</summary>
public interface ITriedDesk
{
    /// <summary>Null where there is no such plant.</summary>
    Task<TriedSheet?> OfPlantAsync(Guid plantId, CancellationToken cancel = default);
}

/// <summary>What was tried on a plant.</summary>
public sealed record TriedSheet
{
    public required PlantRef Plant { get; init; }
    public required DateOnly From { get; init; }
    public required DateOnly To { get; init; }

    /// <summary>The answer in a few sentences.</summary>
    public required IReadOnlyList<string> Words { get; init; }

    /// <summary>By year, newest first.</summary>
    public required IReadOnlyList<TriedYear> Years { get; init; }

    /// <summary>What was weighed for it, most first.</summary>
    public required IReadOnlyList<TriedProduct> Products { get; init; }

    /// <summary>pH at the root by year, newest first.</summary>
    public required IReadOnlyList<TriedPH> RootPH { get; init; }

    /// <summary>Pots, oldest first.</summary>
    public required IReadOnlyList<PotTime> Pots { get; init; }

    /// <summary>Its first and its newest picture.</summary>
    public required IReadOnlyList<PhotoView> Photos { get; init; }

    /// <summary>Whether it did better since the feed last changed; null where nothing can be asked.</summary>
    public required TriedEvidence? Evidence { get; init; }
    public required IReadOnlyList<string> Method { get; init; }
}

/// <summary>A year of feeding.</summary>
/// <param name="Year">Of the calendar.</param>
/// <param name="Feeds">Weeks in which it was fed.</param>
/// <param name="FeedLitres">Feed poured, L.</param>
/// <param name="WaterLitres">Plain water and leaches, L.</param>
/// <param name="MeanEcMicrosiemensPerCm">Of the feed at 25 °C, by volume; null in a year of water.</param>
/// <param name="Milligrams">Of each element, over the year.</param>
/// <param name="MgPerLitre">Mean of the feed as poured, of each element: what water brought is counted with it.</param>
public sealed record TriedYear(int Year, int Feeds, double FeedLitres, double WaterLitres, double? MeanEcMicrosiemensPerCm, NutrientAmounts Milligrams, NutrientAmounts MgPerLitre);

/// <summary>What it got of a product.</summary>
/// <param name="Product">Its name.</param>
/// <param name="Cans">Cans it was in.</param>
/// <param name="Grams">The plant's share of what was weighed for them, g.</param>
/// <param name="GramsPerLitre">Mean in those cans, g/L.</param>
/// <param name="First">Day of the first.</param>
/// <param name="Last">Day of the last.</param>
public sealed record TriedProduct(string Product, int Cans, double Grams, double GramsPerLitre, DateOnly First, DateOnly Last);

/// <summary>pH at the root.</summary>
/// <param name="Year">Of the calendar.</param>
/// <param name="Believed">Mean of the forecasts believed when it was fed; null where none was recorded.</param>
/// <param name="BelievedWeeks">Weeks it stands on.</param>
/// <param name="Measured">Mean of what the pen read in the reservoir; null where it was not measured.</param>
/// <param name="MeasuredLow">Lowest weekly mean.</param>
/// <param name="MeasuredHigh">Highest.</param>
/// <param name="MeasuredWeeks">Weeks with a reading.</param>
public sealed record TriedPH(int Year, double? Believed, int BelievedWeeks, double? Measured, double? MeasuredLow, double? MeasuredHigh, int MeasuredWeeks);

/// <summary>What the records can tell of it.</summary>
/// <param name="Since">The change asked about; null where the ledger shows none.</param>
/// <param name="Change">What changed; null likewise.</param>
/// <param name="Strength">"too early", "hint"; null without a change.</param>
/// <param name="Words">In a sentence.</param>
/// <param name="Basis">Method, assumptions, n.</param>
public sealed record TriedEvidence(DateOnly? Since, string? Change, string? Strength, string Words, EvidenceBasis Basis);
