namespace Rootwater.Growing.Evidence.Survival;

/// <summary>A life by its dates, each as well as it is known.</summary>
/// <param name="Began">When it began (the leaf was first seen to grow).</param>
/// <param name="WatchedFrom">When watching began; null where it was watched from its start.</param>
/// <param name="Until">When it was lost, or last seen.</param>
/// <param name="Ended">True where it was lost.</param>
/// <param name="Group">What is compared.</param>
/// <param name="Stratum">Compared only within.</param>
public sealed record DatedLife(PartialDate Began, PartialDate? WatchedFrom, PartialDate Until, bool Ended, string Group = "all", string Stratum = "");

/// <summary>Lives in days from dates, and what the dates do not allow to be said.</summary>
/// <param name="Lives">By the middles of what the dates can be.</param>
/// <param name="Used">Index of each life in what was given.</param>
/// <param name="Says">Sentences on dates known only to the month or year; empty where all are known to the day.</param>
public sealed record DatedLivesResult(IReadOnlyList<Lifetime> Lives, IReadOnlyList<int> Used, IReadOnlyList<string> Says);

/// <summary>From dates to lives.</summary>
public static class DatedLives
{
    public static DatedLivesResult ToLives(IReadOnlyList<DatedLife> dated)
    {
        var lives = new List<Lifetime>();
        var used = new List<int>();
        var shorter = new List<Lifetime>();
        var longer = new List<Lifetime>();
        int untold = 0, vague = 0;
        var most = 0.0;
        for (var i = 0; i < dated.Count; i++)
        {
            var each = dated[i];
            var slack = each.Began.Slack + each.Until.Slack;
            var exit = each.Until.Middle - each.Began.Middle;
            if (slack == 0 && exit <= 0)
            {
                throw new EvidenceInputException($"row {i + 1}", $"{each.Began.Earliest:yyyy-MM-dd} to {each.Until.Earliest:yyyy-MM-dd}", "an end after the beginning");
            }

            var entry = each.WatchedFrom is { } from && from.Middle > each.Began.Middle ? from.Middle - each.Began.Middle : double.NegativeInfinity;
            if (exit <= slack || entry >= exit)
            {
                untold++;
                continue;
            }

            vague += slack > 0 ? 1 : 0;
            most = Math.Max(most, slack);
            lives.Add(new Lifetime(entry, exit, each.Ended, each.Group, each.Stratum));
            shorter.Add(new Lifetime(double.NegativeInfinity, exit - slack, each.Ended));
            longer.Add(new Lifetime(double.NegativeInfinity, exit + slack, each.Ended));
            used.Add(i);
        }

        var says = new List<string>();
        if (untold > 0)
        {
            says.Add($"{untold} of {dated.Count} lives begin and end within what their dates leave open (the same month or year), so their length cannot be told; they were left out.");
        }

        if (vague > 0)
        {
            var range = KaplanMeier.Fit(shorter).Quantile(0.5) is { } low && KaplanMeier.Fit(longer).Quantile(0.5) is { } high
                ? FormattableString.Invariant($" If all were as short as the dates allow, half would be lost by {low:0} days; if as long, by {high:0}.")
                : "";
            says.Add(FormattableString.Invariant($"{vague} of {lives.Count} lives are dated only to the month or year: the middle was taken, and each may be off by up to {most:0} days.{range}"));
        }

        return new DatedLivesResult(lives, used, says);
    }
}
