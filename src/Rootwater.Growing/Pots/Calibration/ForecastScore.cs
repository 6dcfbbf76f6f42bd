using System.Globalization;
using MathNet.Numerics.Distributions;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>A forecast as it was believed, and what was then read.</summary>
/// <param name="Band">The band believed before the reading, in the reading's unit.</param>
/// <param name="Reading">What was read.</param>
/// <param name="Hours">When, for the order.</param>
public sealed record ScoredForecast(Expected Band, double Reading, double Hours);

/// <summary>How often the bands were right.</summary>
/// <param name="Inside">Readings inside their bands.</param>
/// <param name="All">Readings with a band.</param>
/// <param name="Share">Share inside, with its own 90 % interval (Jeffreys: the beta with half a success and half a failure added).</param>
/// <param name="Promised">What the bands promised (0.9).</param>
/// <param name="Words">Whether they keep it.</param>
public sealed record ForecastScore(int Inside, int All, Expected Share, double Promised, string Words)
{
    private const int LeastToJudge = 10;

    /// <summary>Scores forecasts that were recorded when they were made; bands worked out afterwards would know the answer.</summary>
    /// <param name="forecasts">In any order.</param>
    /// <param name="promised">Share of readings the bands were made to hold.</param>
    public static ForecastScore Of(IReadOnlyList<ScoredForecast> forecasts, double promised = 0.9)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(promised);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(promised, 1);
        var inside = forecasts.Count(one => one.Reading >= one.Band.Low && one.Reading <= one.Band.High);
        var (a, b) = (inside + 0.5, forecasts.Count - inside + 0.5);
        var share = new Expected(Beta.InvCDF(a, b, 0.05), a / (a + b), Beta.InvCDF(a, b, 0.95));
        var words = forecasts.Count < LeastToJudge
            ? Say($"{inside} of {forecasts.Count} readings inside their bands: too few to judge.")
            : share.High < promised
                ? Say($"{inside} of {forecasts.Count} readings inside bands meant to hold {promised:0 %}: the bands are too narrow.")
                : share.Low > promised
                    ? Say($"{inside} of {forecasts.Count} readings inside bands meant to hold {promised:0 %}: the bands are wider than they need be.")
                    : Say($"{inside} of {forecasts.Count} readings inside bands meant to hold {promised:0 %}: they keep what they promise, as far as can be told.");
        return new ForecastScore(inside, forecasts.Count, share, promised, words);
    }

    /// <summary>The score as it went: after each reading in order of time, over the latest so many.</summary>
    public static IReadOnlyList<(double Hours, Expected Share)> Running(IReadOnlyList<ScoredForecast> forecasts, int over = 30)
    {
        var ordered = forecasts.OrderBy(one => one.Hours).ToList();
        return [.. ordered.Select((one, i) => (one.Hours, Of(ordered.GetRange(Math.Max(0, i + 1 - over), Math.Min(over, i + 1))).Share))];
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
