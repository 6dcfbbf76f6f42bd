using System.Globalization;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>Survival results in sentences; what the records cannot carry is said, not computed.</summary>
public static class SurvivalWords
{
    /// <summary>What every survival method assumes of lives cut short by the end of the watch.</summary>
    public const string NonInformative = "Lives cut short by the end of the watch would have gone on like the others.";

    public static IEnumerable<string> Curve(SurvivalCurve curve, double level = 0.95)
    {
        var of = curve.Group == "all" ? "" : $"{curve.Group}: ";
        if (curve.N == 1)
        {
            yield return of + "One life shows what happened once; how lives scatter cannot be told from it.";
            yield break;
        }

        if (curve.Events == 0)
        {
            yield return of + Text($"none of {curve.N} was lost up to {curve.LastTime:0.#}. How long they last cannot be told yet; only that they last at least so long.");
            yield break;
        }

        var lossTimes = curve.Steps.Count(step => step.Events > 0);
        if (lossTimes == 1 && curve.Events > 1)
        {
            var when = curve.Steps.First(step => step.Events > 0).Time;
            yield return of + Text($"all {curve.Events} losses fell at {when:0.#}. That is one happening, not a rate: what happened then is the question, and the band around the curve does not answer it.");
            yield break;
        }

        var (lower, upper) = curve.QuantileBand(0.5, BandKind.LogLog, level);
        yield return of + (curve.Quantile(0.5) is { } median
            ? Text($"half were lost by {median:0.#} ({(lower is null ? "no lower bound" : Text($"{lower:0.#}"))} to {(upper is null ? "no upper bound yet" : Text($"{upper:0.#}"))}, {level * 100:0.#} % band), from {curve.Events} losses among {curve.N}.")
            : Text($"fewer than half were lost by {curve.LastTime:0.#} ({curve.Events} of {curve.N}), so no median can be given yet."));
        if (curve.Steps.FirstOrDefault(step => step.Survival == 0) is { Time: var gone } && curve.AtRisk(gone) < curve.N / 2 && curve.LastTime > gone)
        {
            yield return of + Text($"the curve falls to nothing at {gone:0.#} because few were under watch then; later lives show that this is not the end. Read it only from where more had entered.");
        }
    }

    public static string Compared(LogRankResult result, string? within)
    {
        if (result.Cannot is { } cannot)
        {
            return cannot;
        }

        var counts = string.Join(", ", result.Groups.Select(group => Text($"{group.Name} {group.Observed:0.#} lost where {group.Expected:0.#} were expected")));
        return $"{(within is null ? "" : $"Within each {within}: ")}{counts}. {Chance(result.P!.Value)}";
    }

    public static IEnumerable<string> Regression(CoxFit fit)
    {
        if (fit.Cannot is { } cannot)
        {
            yield return cannot;
        }

        foreach (var each in fit.Coefficients)
        {
            if (each.Cannot is { } why)
            {
                if (fit.Cannot is null)
                {
                    yield return why;
                }
            }
            else if (each.Value is { } value && (each.RobustError ?? each.StandardError) is { } se)
            {
                yield return Text($"{each.Name}: one unit more multiplies the hazard by {Math.Exp(value):0.###} ({Math.Exp(value - 1.96 * se):0.###} to {Math.Exp(value + 1.96 * se):0.###}).");
            }
        }

        if (fit.Cannot is null && fit.Events < 10 * fit.Df)
        {
            yield return $"{fit.Events} losses for {fit.Df} covariate(s) are few: ten for each are the usual least, so these figures are weak.";
        }
    }

    /// <summary>A p-value as a chance in words.</summary>
    public static string Chance(double p) => p switch
    {
        < 0.001 => "A difference like this comes by chance less than one time in a thousand.",
        > 0.5 => "A difference like this comes by chance more often than not.",
        _ => Text($"A difference like this comes by chance one time in {Math.Round(1 / p):0}."),
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
