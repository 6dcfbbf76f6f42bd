namespace Rootwater.Growing.Bench;

/// <summary>Who is due for a feed.</summary>
/// <remarks>
/// First part, by the calendar alone: a pot is due when its usual interval has passed since its last feed, a plant at dry rest never is,
/// and a pot that was never fed is due at once. The round (reservoir levels, weather, leaches) replaces this rule.
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
