namespace Rootwater.Growing.Climate;

/// <summary>The daily light integral: photosynthetically active photons of a day, mol m⁻² d⁻¹.</summary>
/// <remarks>
/// Samples are joined by straight lines (trapezium rule) and summed over the day: DLI = ∫ PPFD dt / 10⁶. Steady 100 µmol m⁻² s⁻¹ over 12 h
/// is 4.32 mol. Light changes faster than most loggers read: with a sample every quarter of an hour expect some 5 % on a cloudy day
/// (common practice, no source). A gap of more than <see cref="LongestGapMinutes"/> is not bridged, and a day with less than
/// <see cref="LeastCoverage"/> of its 24 hours read has no integral.
/// </remarks>
public static class DailyLight
{
    public const int LongestGapMinutes = 120;

    /// <summary>A gap that warmth and rough sums of light may span: a quarter of a day.</summary>
    public const int LongestRoughGapMinutes = 360;

    public const double LeastCoverage = 0.75;
    public const int MinutesPerDay = 1440;

    /// <summary>From samples of one local day.</summary>
    /// <param name="samples">Minute of the day (0 to 1439, rising) and PPFD, µmol m⁻² s⁻¹.</param>
    /// <returns>mol m⁻² d⁻¹; null where too little of the day was read.</returns>
    public static double? Integral(IReadOnlyList<(int Minute, double Ppfd)> samples)
    {
        if (samples.Count < 2)
            return null;
        double micromoles = 0;
        var covered = 0;
        for (var i = 1; i < samples.Count; i++)
        {
            var minutes = samples[i].Minute - samples[i - 1].Minute;
            if (minutes is <= 0 or > LongestGapMinutes)
                continue;
            covered += minutes;
            micromoles += (samples[i].Ppfd + samples[i - 1].Ppfd) / 2 * minutes * 60;
        }

        // The day's ends beyond the first and last sample: within a gap's length the light is taken to stay as it was.
        var (head, tail) = (samples[0].Minute, MinutesPerDay - samples[^1].Minute);
        if (head <= LongestGapMinutes)
            (covered, micromoles) = (covered + head, micromoles + samples[0].Ppfd * head * 60);
        if (tail <= LongestGapMinutes)
            (covered, micromoles) = (covered + tail, micromoles + samples[^1].Ppfd * tail * 60);
        return covered < LeastCoverage * MinutesPerDay ? null : micromoles / 1e6;
    }

    /// <summary>
    /// From a logger that reads only every few hours: the mean of its samples, where no gap is longer than <see cref="LongestRoughGapMinutes"/>. Rough for one day, good enough for the mean of many.
    /// </summary>
    /// <param name="samples">Minute of the day (0 to 1439, rising) and PPFD, µmol m⁻² s⁻¹.</param>
    /// <returns>mol m⁻² d⁻¹; null where too little of the day was read.</returns>
    public static double? Rough(IReadOnlyList<(int Minute, double Ppfd)> samples)
    {
        var last = 0;
        foreach (var (minute, _) in samples)
        {
            if (minute - last > LongestRoughGapMinutes)
                return null;
            last = minute;
        }

        return samples.Count == 0 || MinutesPerDay - last > LongestRoughGapMinutes ? null : Steady(samples.Average(sample => sample.Ppfd), 24);
    }

    /// <summary>A steady light for some hours, mol m⁻² d⁻¹.</summary>
    public static double Steady(double ppfd, double hours) => ppfd * hours * 3600 / 1e6;
}
