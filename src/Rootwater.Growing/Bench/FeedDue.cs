namespace Rootwater.Growing.Bench;

/// <summary>Who is due for a feed by the calendar.</summary>
/// <remarks>
/// The calendar alone: due when the plan's days have passed since the last feed, never at dry rest, at once when never fed. What a plant gets on
/// a day is judged by <c>Rounds.RoundRules</c>, for the walk, the mixing page and the bench alike; the demo's grower goes by this.
/// </remarks>
public static class FeedDue
{
    /// <summary>Days since the feed fell due on a day, zero on the day itself; null while it is not due.</summary>
    public static int? DaysOver(Pot pot, IReadOnlyList<PlantState> states, DateOnly asOf)
    {
        if (states.Contains(PlantState.DryRest))
        {
            return null;
        }

        if (pot.LastFed is not { } lastFed)
        {
            return 0;
        }

        var over = asOf.DayNumber - lastFed.DayNumber - pot.FeedEveryDays;
        return over >= 0 ? over : null;
    }
}
