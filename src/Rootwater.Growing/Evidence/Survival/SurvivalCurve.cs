using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>How a confidence band of a survival curve is made.</summary>
public enum BandKind
{
    /// <summary>exp(-exp(log(-log S) ± z SE)): stays within 0 and 1 and is the best of the three with few events. The default.</summary>
    LogLog,

    /// <summary>exp(log S ± z SE), cut at 1.</summary>
    Log,

    /// <summary>S ± z SE, cut at 0 and 1.</summary>
    Plain,
}

/// <summary>One step of a survival curve: all that happened at one time.</summary>
/// <param name="Time">Age.</param>
/// <param name="AtRisk">Lives with entry &lt; time &lt;= exit.</param>
/// <param name="Events">Losses at this time.</param>
/// <param name="Survival">S just after this time.</param>
/// <param name="LogVariance">Greenwood's sum: the variance of log S; null once S is 0.</param>
/// <param name="Hazard">Nelson–Aalen cumulative hazard.</param>
/// <param name="SpreadHazard">Fleming–Harrington cumulative hazard, tied losses spread one at a time.</param>
public readonly record struct SurvivalStep(double Time, int AtRisk, int Events, double Survival, double? LogVariance, double Hazard, double SpreadHazard);

/// <summary>A Kaplan–Meier curve: made by <see cref="KaplanMeier"/>.</summary>
/// <remarks>
/// Kaplan and Meier 1958; Greenwood 1926 for the variance; Klein and Moeschberger, Survival Analysis, for bands and restricted means (from memory).
/// Quantiles: the first time with S &lt;= 1 - p, and the middle of the flat stretch where S equals 1 - p.
/// </remarks>
public sealed class SurvivalCurve
{
    private const double SameSurvival = 1.4901161193847656e-8;
    private readonly double[] _entries;
    private readonly double[] _exits;

    internal SurvivalCurve(string group, IReadOnlyList<SurvivalStep> steps, double[] sortedEntries, double[] sortedExits)
    {
        Group = group;
        Steps = steps;
        _entries = sortedEntries;
        _exits = sortedExits;
        Events = steps.Sum(step => step.Events);
    }

    /// <summary>The group it is about.</summary>
    public string Group { get; }

    /// <summary>Lives (or intervals) in it.</summary>
    public int N => _exits.Length;

    /// <summary>Losses in it.</summary>
    public int Events { get; }

    /// <summary>Every time at which a life was lost or last seen, in order.</summary>
    public IReadOnlyList<SurvivalStep> Steps { get; }

    /// <summary>The last time anything was seen.</summary>
    public double LastTime => Steps.Count == 0 ? 0 : Steps[^1].Time;

    /// <summary>Lives with entry &lt; t &lt;= exit.</summary>
    public int AtRisk(double t) => Below(_entries, t) - Below(_exits, t);

    /// <summary>The share still there just after t.</summary>
    public double Survival(double t) => At(t) is { } step ? step.Survival : 1;

    /// <summary>Nelson–Aalen cumulative hazard.</summary>
    public double Hazard(double t) => At(t)?.Hazard ?? 0;

    /// <summary>Fleming–Harrington cumulative hazard.</summary>
    public double SpreadHazard(double t) => At(t)?.SpreadHazard ?? 0;

    /// <summary>Greenwood's standard error of S; null where S is 0 and it is not defined.</summary>
    public double? StandardError(double t)
    {
        var step = At(t);
        return step is null ? 0 : step.Value.LogVariance is { } variance ? step.Value.Survival * Math.Sqrt(variance) : null;
    }

    /// <summary>The pointwise band of S; null bounds where S is 0.</summary>
    public (double? Lower, double? Upper) Band(double t, BandKind kind = BandKind.LogLog, double level = 0.95) =>
        At(t) is { } step ? Band(step, kind, Tails.ZFor(level)) : (1, 1);

    /// <summary>The age by which the share p is lost; null where the curve never falls that far.</summary>
    public double? Quantile(double p) => Crossing(p, step => step.Survival);

    /// <summary>The band of that age: where the band of S crosses 1 - p.</summary>
    public (double? Lower, double? Upper) QuantileBand(double p, BandKind kind = BandKind.LogLog, double level = 0.95)
    {
        var z = Tails.ZFor(level);
        return (Crossing(p, step => Band(step, kind, z).Lower), Crossing(p, step => Band(step, kind, z).Upper));
    }

    /// <summary>The mean life within the first tau, and its standard error (no m/(m-1) factor).</summary>
    public (double Mean, double StandardError) RestrictedMean(double tau)
    {
        var mean = 0.0;
        var survival = 1.0;
        var from = 0.0;
        var steps = Steps.Where(step => step.Events > 0 && step.Time <= tau).ToList();
        var areas = new double[steps.Count];
        for (var i = 0; i < steps.Count; i++)
        {
            areas[i] = survival * (steps[i].Time - from);
            mean += areas[i];
            (survival, from) = (steps[i].Survival, steps[i].Time);
        }

        var rest = survival * (tau - from);
        mean += rest;
        var variance = 0.0;
        for (var i = steps.Count - 1; i >= 0; i--)
        {
            if (steps[i].AtRisk > steps[i].Events)
            {
                variance += rest * rest * steps[i].Events / (steps[i].AtRisk * (double)(steps[i].AtRisk - steps[i].Events));
            }

            rest += areas[i];
        }

        return (mean, Math.Sqrt(variance));
    }

    private SurvivalStep? At(double t)
    {
        int low = 0, high = Steps.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Steps[middle].Time <= t)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low == 0 ? null : Steps[low - 1];
    }

    private static (double? Lower, double? Upper) Band(SurvivalStep step, BandKind kind, double z)
    {
        if (step.LogVariance is not { } variance)
        {
            return (null, null);
        }

        var s = step.Survival;
        var reach = z * Math.Sqrt(variance);
        if (variance == 0)
        {
            return (s, s);
        }

        switch (kind)
        {
            case BandKind.LogLog:
                var width = reach / Math.Log(s);
                return (Math.Pow(s, Math.Exp(-width)), Math.Pow(s, Math.Exp(width)));
            case BandKind.Log:
                return (s * Math.Exp(-reach), Math.Min(1, s * Math.Exp(reach)));
            default:
                return (Math.Max(0, s - s * reach), Math.Min(1, s + s * reach));
        }
    }

    /// <summary>Where the curve crosses 1 - p. Late entry can make a band rise again, so that it crosses more than once; then the crossing that comes closest to 1 - p counts (the convention of the published tables).</summary>
    private double? Crossing(double p, Func<SurvivalStep, double?> curve)
    {
        (double Lost, double Time)? reached = null;
        (double Lost, double Time)? passed = null;
        var lastLost = 0.0;
        foreach (var step in Steps)
        {
            if (curve(step) is not { } s)
            {
                continue;
            }

            lastLost = 1 - s;
            if (lastLost + SameSurvival >= p && !(reached?.Lost <= lastLost))
            {
                reached = (lastLost, step.Time);
            }

            if (lastLost - SameSurvival >= p && !(passed?.Lost <= lastLost))
            {
                passed = (lastLost, step.Time);
            }
        }

        if (reached is not { } first)
        {
            return null;
        }

        // Flat at exactly 1 - p: the middle of the stretch, to the end of the watch if it lasts so long.
        return passed is { } second ? (first.Time + second.Time) / 2 : Math.Abs(lastLost - p) < SameSurvival ? (first.Time + LastTime) / 2 : null;
    }

    private static int Below(double[] sorted, double t)
    {
        int low = 0, high = sorted.Length;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (sorted[middle] < t)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }
}
