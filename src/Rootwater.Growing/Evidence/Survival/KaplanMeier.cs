namespace Rootwater.Growing.Evidence.Survival;

/// <summary>Kaplan–Meier curves from lives that may have entered late.</summary>
public static class KaplanMeier
{
    /// <summary>One curve of all lives together.</summary>
    /// <exception cref="EvidenceInputException">A life that ends before it begins, or a time that is no number.</exception>
    public static SurvivalCurve Fit(IReadOnlyList<Lifetime> lives, string group = "all")
    {
        var entries = new double[lives.Count];
        var exits = new double[lives.Count];
        var events = new double[lives.Count];
        var eventCount = 0;
        for (var i = 0; i < lives.Count; i++)
        {
            var life = lives[i];
            Check(life);
            entries[i] = life.Entry;
            exits[i] = life.Exit;
            if (life.Ended)
            {
                events[eventCount++] = life.Exit;
            }
        }

        Array.Sort(entries);
        Array.Sort(exits);
        Array.Sort(events, 0, eventCount);
        return new SurvivalCurve(group, Steps(entries, exits, events.AsSpan(0, eventCount)), entries, exits);
    }

    /// <summary>One curve per group, in the order in which the groups first appear.</summary>
    public static IReadOnlyList<SurvivalCurve> ByGroup(IReadOnlyList<Lifetime> lives)
    {
        var groups = new Dictionary<string, List<Lifetime>>();
        var order = new List<string>();
        foreach (var life in lives)
        {
            if (!groups.TryGetValue(life.Group, out var list))
            {
                groups[life.Group] = list = [];
                order.Add(life.Group);
            }

            list.Add(life);
        }

        return [.. order.Select(group => Fit(groups[group], group))];
    }

    internal static void Check(Lifetime life)
    {
        if (!double.IsFinite(life.Exit))
        {
            throw new EvidenceInputException("time", life.Exit, "a finite time");
        }

        if (!(life.Entry < life.Exit))
        {
            throw new EvidenceInputException("entry", life.Entry, FormattableString.Invariant($"an entry before the exit at {life.Exit}"));
        }
    }

    private static List<SurvivalStep> Steps(double[] entries, double[] exits, ReadOnlySpan<double> events)
    {
        var steps = new List<SurvivalStep>(Math.Min(exits.Length, 4096));
        int entered = 0, left = 0, lost = 0;
        double survival = 1, hazard = 0, spread = 0;
        double? variance = 0;
        while (left < exits.Length)
        {
            var t = exits[left];
            while (entered < entries.Length && entries[entered] < t)
            {
                entered++;
            }

            var atRisk = entered - left;
            var deaths = 0;
            while (lost < events.Length && events[lost] == t)
            {
                lost++;
                deaths++;
            }

            if (deaths > 0)
            {
                hazard += deaths / (double)atRisk;
                for (var k = 0; k < deaths; k++)
                {
                    spread += 1.0 / (atRisk - k);
                }

                survival = deaths == atRisk ? 0 : survival * (atRisk - deaths) / atRisk;
                variance = survival == 0 ? null : variance + deaths / ((double)atRisk * (atRisk - deaths));
            }

            steps.Add(new SurvivalStep(t, atRisk, deaths, survival, variance, hazard, spread));
            while (left < exits.Length && exits[left] == t)
            {
                left++;
            }
        }

        return steps;
    }
}
