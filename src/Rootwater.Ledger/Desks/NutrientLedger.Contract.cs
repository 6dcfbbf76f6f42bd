using Rootwater.Growing;

namespace Rootwater.Ledger.Desks;

/// <summary>What plants were given, week by week; derived from cans and rounds, never typed and never stored twice.</summary>
public interface INutrientLedger
{
    /// <summary>Weeks (Monday first) with anything given, oldest first.</summary>
    Task<IReadOnlyList<NutrientWeek>> OfPlantAsync(Guid plantId, DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default);

    /// <summary>The same for every plant.</summary>
    Task<IReadOnlyDictionary<Guid, IReadOnlyList<NutrientWeek>>> OfBenchAsync(DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default);
}

/// <summary>A week of one plant.</summary>
/// <param name="Monday">First day.</param>
/// <param name="Milligrams">Of each nutrient given; the forms of nitrogen apart.</param>
/// <param name="FeedMillilitres">Of feed.</param>
/// <param name="WaterMillilitres">Of plain water and leaches.</param>
/// <param name="MeanEcMicrosiemensPerCm">Of what was fed, by volume; null in a week of water.</param>
/// <param name="ForecastRootPH">Mean of the forecasts believed when it was fed that week, each over its first seven days; null where none was recorded, and in the table of the whole bench.</param>
/// <param name="MeasuredRootPH">Mean of the reservoir readings of that week.</param>
public sealed record NutrientWeek(
    DateOnly Monday, NutrientAmounts Milligrams, double FeedMillilitres, double WaterMillilitres, double? MeanEcMicrosiemensPerCm, double? ForecastRootPH, double? MeasuredRootPH)
{
    /// <summary>Mean EC at the root, µS/cm at 25 °C, of the same forecasts; null where <see cref="ForecastRootPH"/> is.</summary>
    public double? ForecastRootEcMicrosiemensPerCm { get; init; }
}
