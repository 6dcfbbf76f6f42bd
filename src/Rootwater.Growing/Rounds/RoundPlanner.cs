using System.Globalization;

namespace Rootwater.Growing.Rounds;

/// <summary>The walk: everybody judged, in walking order with quarantine last. It is planned anew from the facts each time, so a missed week needs no mending.</summary>
public static class RoundPlanner
{
    /// <summary>Plans the walk.</summary>
    public static WalkPlan Plan(IEnumerable<PlantOnRound> plants, DateOnly asOf, RoundOptions? options = null)
    {
        var walk = plants.OrderBy(plant => plant.Quarantine is not null).ThenBy(plant => plant.WalkOrder).ThenBy(plant => plant.Number)
            .Select(plant => new WalkStop(plant, RoundRules.Judge(plant, asOf, options))).ToList();
        var notes = new List<string>();
        var behind = walk.Where(stop => stop.Duty.Missed > 0).ToList();
        if (behind.Count > 0)
        {
            notes.Add(behind.Count == 1
                ? $"No. {behind[0].Plant.Number} has missed a feed: it gets one of the usual strength. Nothing is made up for."
                : string.Create(CultureInfo.InvariantCulture, $"{behind.Count} plants have missed feeds: each gets one of the usual strength, those dry for days plain water first. Nothing is made up for."));
        }

        return new WalkPlan(asOf, walk, notes);
    }

    /// <summary>How a stop in quarantine is to be handled, in words.</summary>
    public static string QuarantineWords(Bench.Quarantine quarantine, DateOnly asOf) => string.Create(CultureInfo.InvariantCulture,
        $"Quarantine, day {asOf.DayNumber - quarantine.Begun.DayNumber + 1} of {quarantine.Days}: own syringe and own can, look under the leaves, wash hands after.");
}

/// <summary>A walk on a day.</summary>
public sealed record WalkPlan(DateOnly AsOf, IReadOnlyList<WalkStop> Stops, IReadOnlyList<string> Notes);

/// <summary>A plant and what it gets.</summary>
public sealed record WalkStop(PlantOnRound Plant, Duty Duty);
