using Rootwater.Growing.Evidence.Rates;

namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>A forecast as it was believed, and what came.</summary>
/// <param name="Made">When it was made.</param>
/// <param name="Early">Lower end of its band.</param>
/// <param name="Middle">Its middle.</param>
/// <param name="Late">Upper end.</param>
/// <param name="Came">When it happened; null while it has not.</param>
public sealed record DatedForecast(DateOnly Made, DateOnly Early, DateOnly Middle, DateOnly Late, DateOnly? Came);

/// <summary>How good the forecasts were: their record of hits.</summary>
/// <param name="Judged">Forecasts that can be judged: it came, or the band has passed.</param>
/// <param name="Hits">Within the band.</param>
/// <param name="Share95">What the hits say of the true share, 95 %.</param>
/// <param name="MeanErrorDays">Mean of came less middle: positive where it comes later than forecast; null where nothing came.</param>
/// <param name="Words">In a sentence.</param>
public sealed record ForecastRecord(int Judged, int Hits, Interval? Share95, double? MeanErrorDays, string Words)
{
    public static ForecastRecord Of(IReadOnlyList<DatedForecast> forecasts, DateOnly today, double promised = 0.9)
    {
        var never = forecasts.Count(forecast => forecast.Came is null && forecast.Late < today);
        var judged = forecasts.Where(forecast => forecast.Came is not null || forecast.Late < today).ToList();
        if (judged.Count == 0)
        {
            return new ForecastRecord(0, 0, null, null, "No forecast has come due yet.");
        }

        var hits = judged.Count(forecast => forecast.Came >= forecast.Early && forecast.Came <= forecast.Late);
        var errors = judged.Where(forecast => forecast.Came is not null).Select(forecast => (double)(forecast.Came!.Value.DayNumber - forecast.Middle.DayNumber)).ToList();
        var interval = ExactBinomial.ClopperPearson(hits, judged.Count);
        var fits = promised >= interval.Lower && promised <= interval.Upper;
        return new ForecastRecord(
            judged.Count,
            hits,
            interval,
            errors.Count == 0 ? null : errors.Average(),
            FormattableString.Invariant($"{hits} of {judged.Count} fell within the band ({100 * promised:0} in 100 promised){(fits ? "" : hits > promised * judged.Count ? ": the bands are wider than they need be" : ": the bands are not to be trusted as they stand")}.{(errors.Count >= 3 && Math.Abs(errors.Average()) > 7 ? FormattableString.Invariant($" On average it came {Math.Abs(errors.Average()):0} days {(errors.Average() > 0 ? "later" : "sooner")}.") : "")}{(never > 0 ? FormattableString.Invariant($" Of the misses {never} did not come that season at all.") : "")}"));
    }
}
