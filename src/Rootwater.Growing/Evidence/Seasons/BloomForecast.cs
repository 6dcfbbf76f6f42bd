using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>When a spike that shows now should open its first flower, from how long earlier ones took.</summary>
/// <param name="Early">Lower end of the band.</param>
/// <param name="Middle">The middle.</param>
/// <param name="Late">Upper end.</param>
/// <param name="Words">In a sentence.</param>
public sealed record BloomForecast(DateOnly Early, DateOnly Middle, DateOnly Late, string Words)
{
    /// <summary>With fewer than three earlier spikes nothing says how much they differ: so many days are put on either side (judgement).</summary>
    public const int FewReach = 21;

    /// <summary>Mean of what earlier spikes took, ± t × s × √(1 + 1/n) days; null where none is known.</summary>
    /// <param name="took">Days from spike to first flower of earlier ones.</param>
    /// <param name="spike">When this spike was seen.</param>
    /// <param name="level">Certainty of the band.</param>
    public static BloomForecast? Of(IReadOnlyList<double> took, DateOnly spike, double level = 0.9)
    {
        if (took.Count == 0)
        {
            return null;
        }

        var mean = took.Average();
        double reach = FewReach;
        if (took.Count >= 3)
        {
            var sd = Math.Max(1, Math.Sqrt(took.Sum(days => (days - mean) * (days - mean)) / (took.Count - 1)));
            reach = Tails.StudentFor(level, took.Count - 1) * sd * Math.Sqrt(1 + 1.0 / took.Count);
        }

        var middle = spike.AddDays((int)Math.Round(mean));
        var (early, late) = (spike.AddDays((int)Math.Max(1, Math.Floor(mean - reach))), spike.AddDays((int)Math.Ceiling(mean + reach)));
        return new BloomForecast(early, middle, late, FormattableString.Invariant($"its spike was seen on {spike:yyyy-MM-dd}; {took.Count} earlier took {took.Min():0} to {took.Max():0} days"));
    }
}
