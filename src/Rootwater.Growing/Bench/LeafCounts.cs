namespace Rootwater.Growing.Bench;

/// <summary>How many leaves live on which day, and whether a loss is worth an alarm.</summary>
public static class LeafCounts
{
    /// <summary>The number of living leaves after each day on which it changed, oldest first. A span counts from its first day on, a loss from its last.</summary>
    public static IReadOnlyList<(DateOnly From, int Leaves)> OverTime(IEnumerable<Growth> growths)
    {
        var changes = new SortedDictionary<DateOnly, int>();
        foreach (var leaf in growths.SelectMany(growth => growth.Leaves.Select(leaf => (Leaf: leaf, growth.Ended))))
        {
            Change(leaf.Leaf.FirstSeen.Earliest, 1);
            // A growth that died took its leaves along.
            if ((leaf.Leaf.Lost?.When ?? leaf.Ended) is { } gone)
            {
                Change(gone.Latest > leaf.Leaf.FirstSeen.Earliest ? gone.Latest : leaf.Leaf.FirstSeen.Earliest, -1);
            }
        }

        var counts = new List<(DateOnly, int)>();
        var now = 0;
        foreach (var (day, change) in changes)
        {
            if (change != 0)
            {
                counts.Add((day, now += change));
            }
        }

        return counts;

        void Change(DateOnly day, int by) => changes[day] = changes.GetValueOrDefault(day) + by;
    }

    /// <summary>
    /// What losing a leaf means: as expected (age of the oldest leaf, or a deciduous kind shedding in or just before its season), or worth a look.
    /// </summary>
    /// <param name="kind">Its habits; null where unknown: then as for an evergreen.</param>
    /// <param name="growth">The growth it was on.</param>
    /// <param name="leaf">The leaf, lost.</param>
    /// <param name="newerGrowth">Whether a later growth lives: a soft cane sheds once its successor stands.</param>
    /// <param name="southOfEquator">Shifts the season by half a year.</param>
    public static LeafAlarm Judge(Kind? kind, Growth growth, Leaf leaf, bool newerGrowth, bool southOfEquator = false)
    {
        if (leaf.Lost is not { } lost)
        {
            return LeafAlarm.None;
        }

        if (lost.Cause is LeafLoss.Broken or LeafLoss.CutOff)
        {
            return LeafAlarm.None; // known, and done with
        }

        var sheds = Sheds(kind, lost.When, newerGrowth, southOfEquator);
        if (lost.Cause is LeafLoss.Shed or LeafLoss.Age or LeafLoss.Unknown && sheds)
        {
            return LeafAlarm.None;
        }

        var oldest = growth.Leaves.Where(other => other.Id != leaf.Id && (other.Lost is null || other.Lost.When.Earliest > lost.When.Latest)).All(other => other.Position > leaf.Position);
        return lost.Cause switch
        {
            LeafLoss.Age or LeafLoss.Unknown when oldest => LeafAlarm.None,
            LeafLoss.Rot or LeafLoss.Pest => LeafAlarm.Urgent,
            _ => LeafAlarm.Look,
        };
    }

    /// <summary>Whether a mark is only the colour in which leaves of this kind fall: yellow or pale, in or just before the season in which they do.</summary>
    public static bool IsShedding(Kind? kind, LeafMark mark, bool newerGrowth, bool southOfEquator = false) =>
        mark.Sign is LeafSign.Yellowing or LeafSign.Pale && Sheds(kind, mark.When, newerGrowth, southOfEquator);

    private static bool Sheds(Kind? kind, DaySpan when, bool newerGrowth, bool southOfEquator) => kind?.Leaves switch
    {
        LeafHabit.Deciduous => InSeason(kind, when, southOfEquator),
        LeafHabit.SemiDeciduous => newerGrowth || InSeason(kind, when, southOfEquator),
        _ => false,
    };

    // Leaves begin to fall a month before the rest itself.
    private static bool InSeason(Kind kind, DaySpan when, bool south) =>
        kind.Rest is { } rest && (rest.IsSeason(when.Middle, south) || rest.IsSeason(when.Middle.AddDays(31), south));
}

/// <summary>What a lost leaf calls for.</summary>
public enum LeafAlarm
{
    None,

    /// <summary>Not what its kind does at this time: look at roots, reservoir and neighbours.</summary>
    Look,

    /// <summary>Rot or pests spread within days.</summary>
    Urgent,
}
