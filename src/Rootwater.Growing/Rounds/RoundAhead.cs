namespace Rootwater.Growing.Rounds;

/// <summary>
/// The walks of the coming days, each judged by the same rules as today's (<see cref="RoundRules"/>) as if every one before it had been walked
/// and each plant had got what was due. The air is taken to stay as it was in the last week, states as they are now.
/// </summary>
public static class RoundAhead
{
    // Of a feed whose want nobody chose. Common practice, no source.
    private const double SomeFeedMicrosiemensPerCm = 600, PlainWaterMicrosiemensPerCm = 100;

    /// <summary>Days from <paramref name="from"/> on, those on which nothing is due left out.</summary>
    public static IEnumerable<(DateOnly On, IReadOnlyList<WalkStop> Stops)> Walks(IEnumerable<PlantOnRound> plants, DateOnly from, int days, RoundOptions? options = null)
    {
        var standing = plants.ToArray();
        for (var on = from; on < from.AddDays(days); on = on.AddDays(1))
        {
            var due = RoundPlanner.Plan(standing, on, options).Stops.Where(stop => stop.Duty.IsDue).ToDictionary(stop => stop.Plant.PlantId);
            if (due.Count == 0)
            {
                continue;
            }

            standing = [.. standing.Select(plant => due.TryGetValue(plant.PlantId, out var stop) ? Walked(plant, stop.Duty, on) : plant)];
            yield return (on, [.. due.Values]);
        }
    }

    private static PlantOnRound Walked(PlantOnRound plant, Duty duty, DateOnly on) => plant with
    {
        Entries = [.. plant.Entries, new PouredIn(on, duty.Act, duty.Millilitres / 1000, duty.Act == RoundAct.Feed ? plant.FeedEcMicrosiemensPerCm?.Ideal ?? SomeFeedMicrosiemensPerCm : PlainWaterMicrosiemensPerCm)],
        Pot = duty.Act == RoundAct.Feed ? plant.Pot with { LastFed = on } : plant.Pot,
        PassedBy = null,
    };
}
