namespace Rootwater.Growing.Evidence.Seasons;

/// <summary>The weather that brings on spikes in a genus, from data/growing/spike-induction.csv.</summary>
public sealed record InductionRule(string Genus, double MeanLow, double MeanHigh, double DayMax, double BlockingCelsius, double DaysEarly, double DaysMiddle, double DaysLate, string Source)
{
    /// <summary>Genera for which a paper gives one.</summary>
    public static IReadOnlyList<InductionRule> All { get; } = [.. EmbeddedTable.Read("spike-induction.csv").Select(row => new InductionRule(
        row["genus"], row.Number("mean_low"), row.Number("mean_high"), row.Number("day_max"), row.Number("blocking_celsius"), row.Number("days_early"), row.Number("days_middle"), row.Number("days_late"), row["source"]))];

    /// <summary>The rule of a genus; null where no paper gives one.</summary>
    public static InductionRule? For(string genus) => All.FirstOrDefault(rule => string.Equals(rule.Genus, genus, StringComparison.OrdinalIgnoreCase));

    /// <summary>True where the day counts towards the spike: mean within the range, maximum not above the limit.</summary>
    public bool Induces(TemperatureDay day) => day.Mean >= MeanLow && day.Mean <= MeanHigh && day.Highest <= DayMax;

    /// <summary>True where the day is so hot that it takes a day away again.</summary>
    public bool Blocks(TemperatureDay day) => day.Highest >= BlockingCelsius;
}

/// <summary>When a spike should show.</summary>
/// <param name="DaysSoFar">Inductive days counted up to today (hot days taken off).</param>
/// <param name="Early">Lower end of the band; null where the weather ahead is not known or never turns.</param>
/// <param name="Middle">The middle.</param>
/// <param name="Late">Upper end.</param>
/// <param name="Words">In a sentence, or what cannot be said.</param>
public sealed record SpikeForecast(double DaysSoFar, DateOnly? Early, DateOnly? Middle, DateOnly? Late, string Words)
{
    /// <summary>
    /// Counts inductive days from the readings, and goes on with the same calendar days of earlier years. A hot day takes one off (judgement: the papers say that heat blocks, not how fast what was gained is lost).
    /// </summary>
    /// <param name="genus">The genus.</param>
    /// <param name="days">Days known by readings, any years.</param>
    /// <param name="today">Today; days before the last <paramref name="windowDays"/> are left out of the count.</param>
    /// <param name="windowDays">How far back induction is counted: since the last spike, at most this.</param>
    public static SpikeForecast Of(string genus, IReadOnlyList<TemperatureDay> days, DateOnly today, int windowDays = 120)
    {
        if (InductionRule.For(genus) is not { } rule)
        {
            return new SpikeForecast(0, null, null, null, $"No paper at hand gives the temperatures that bring on spikes in {genus}; its own past dates have to do.");
        }

        var byDay = days.GroupBy(day => day.Day).ToDictionary(group => group.Key, group => group.First());
        var normal = days.GroupBy(day => (day.Day.Month, day.Day.Day)).ToDictionary(group => group.Key, group => new TemperatureDay(default, group.Average(day => day.Mean), group.Average(day => day.Lowest), group.Average(day => day.Highest), 24));
        var so = 0.0;
        var known = 0;
        var passed = new DateOnly?[3];
        for (var date = today.AddDays(-windowDays); date <= today; date = date.AddDays(1))
        {
            if (byDay.TryGetValue(date, out var day))
            {
                known++;
                so = Step(rule, so, day);
                Reach(rule, so, date, passed);
            }
        }

        if (known == 0)
        {
            return new SpikeForecast(0, null, null, null, "No temperatures of the last months are recorded, so the count cannot begin.");
        }

        var ahead = so;
        for (var date = today.AddDays(1); date <= today.AddDays(365) && passed[2] is null; date = date.AddDays(1))
        {
            if (!normal.TryGetValue((date.Month, date.Day), out var day))
            {
                break;
            }

            ahead = Step(rule, ahead, day);
            Reach(rule, ahead, date, passed);
        }

        return passed is [{ } early, { } middle, { } late]
            ? new SpikeForecast(so, early, middle, late, FormattableString.Invariant($"{so:0} inductive days so far; the spike should show about {middle:d MMMM yyyy} ({early:d MMMM} to {late:d MMMM}), if the weather is as in earlier years."))
            : new SpikeForecast(so, passed[0], passed[1], null, FormattableString.Invariant($"{so:0} inductive days so far of the {rule.DaysMiddle:0} it takes; no readings of earlier years say how the coming weeks will be, so no date can be given."));
    }

    private static double Step(InductionRule rule, double so, TemperatureDay day) => rule.Induces(day) ? so + 1 : rule.Blocks(day) ? Math.Max(0, so - 1) : so;

    private static void Reach(InductionRule rule, double so, DateOnly date, DateOnly?[] passed)
    {
        passed[0] ??= so >= rule.DaysEarly ? date : null;
        passed[1] ??= so >= rule.DaysMiddle ? date : null;
        passed[2] ??= so >= rule.DaysLate ? date : null;
    }
}
