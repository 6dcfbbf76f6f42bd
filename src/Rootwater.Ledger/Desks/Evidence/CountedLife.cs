using Rootwater.Growing.Bench;
using Rootwater.Growing.Evidence;
using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>One life as evidence counts it.</summary>
/// <param name="Plant">The plant it is of.</param>
/// <param name="Name">"bulb 4, leaf 1".</param>
/// <param name="Began">As well as it is known; for a leaf that was there on arrival, the arrival.</param>
/// <param name="AgeKnown">False where it was there on arrival.</param>
/// <param name="Until">Loss, or last seen.</param>
/// <param name="Lost">A loss that counts.</param>
/// <param name="Why">How it ended, in words.</param>
/// <param name="Cause">Of a leaf that was lost.</param>
internal sealed record CountedLife(EvidencePlant Plant, string Name, DaySpan Began, bool AgeKnown, DaySpan Until, bool Lost, string Why, LeafLoss? Cause = null)
{
    public LifeLine ToLine() => new(Plant.Number, Name, Text(Began), AgeKnown, Text(Until), Lost, Why);

    /// <summary>A span as exactly as it is known: a day, a month, a year, or from one day to another.</summary>
    public static string Text(DaySpan span) =>
        span.IsOneDay ? FactWords.Say($"{span.Earliest:yyyy-MM-dd}")
        : span is { Earliest: { Month: 1, Day: 1 }, Latest: { Month: 12, Day: 31 } } && span.Earliest.Year == span.Latest.Year ? FactWords.Say($"{span.Earliest:yyyy}")
        : span.Earliest.Day == 1 && span.Latest == span.Earliest.AddMonths(1).AddDays(-1) ? FactWords.Say($"{span.Earliest:yyyy-MM}")
        : FactWords.Say($"{span.Earliest:yyyy-MM-dd} to {span.Latest:yyyy-MM-dd}");

    private static PartialDate Date(DaySpan span) => new(span.Earliest, span.Latest);

    /// <summary>Lives in days by the middles of what their dates can be, and what the dates do not allow to be said.</summary>
    public static (IReadOnlyList<(CountedLife Life, LeafLife Days)> Lives, IReadOnlyList<string> Says) InDays(IReadOnlyList<CountedLife> lives)
    {
        // Seen and lost on one day still lived a day.
        var dated = lives.Select(life => new DatedLife(
            Date(life.Began), null, life.Began.IsOneDay && life.Until.IsOneDay && life.Until.Latest <= life.Began.Earliest ? PartialDate.Day(life.Began.Earliest.AddDays(1)) : Date(life.Until), life.Lost)).ToList();
        var result = DatedLives.ToLives(dated);
        return ([.. result.Used.Select(i => (lives[i], Days(lives[i], dated[i])))], result.Says);
    }

    private static LeafLife Days(CountedLife life, DatedLife dated) =>
        new(life.Plant.Numbered, dated.Began.Middle, dated.Began.Middle, dated.Until.Middle, life.Lost);

    /// <summary>Lives of a plant up to a day.</summary>
    public static IEnumerable<CountedLife> Of(EvidencePlant plant, LivesOf of, DateOnly today) => of switch
    {
        LivesOf.Leaves => Leaves(plant, today),
        LivesOf.Growths => Growths(plant, today),
        LivesOf.Plants => [WholePlant(plant, today)],
        LivesOf.Blooms => Blooms(plant, today),
        _ => [],
    };

    private static IEnumerable<CountedLife> Leaves(EvidencePlant plant, DateOnly today)
    {
        foreach (var growth in plant.Growths)
        {
            foreach (var leaf in growth.Leaves)
            {
                var name = Projections.PlantRows.NameOf(growth, leaf);
                if (leaf.Lost is { } lost)
                {
                    var shed = IsShed(plant, lost);
                    var broken = lost.Cause is LeafLoss.Broken or LeafLoss.CutOff;
                    yield return new CountedLife(plant, name, leaf.FirstSeen, !leaf.ThereOnArrival, lost.When, !shed && !broken,
                        shed ? "shed in its season: not counted" : broken ? $"{FactWords.Of(lost.Cause)}: not counted" : $"lost: {FactWords.Of(lost.Cause)}", lost.Cause);
                }
                else
                {
                    var (until, why) = growth.Ended is { } ended ? (ended, $"went with its growth: {growth.EndCause}") : StillThere(plant, today);
                    yield return new CountedLife(plant, name, leaf.FirstSeen, !leaf.ThereOnArrival, until, false, why);
                }
            }
        }
    }

    private static IEnumerable<CountedLife> Growths(EvidencePlant plant, DateOnly today)
    {
        foreach (var growth in plant.Growths)
        {
            var (until, why) = growth.Ended is { } ended ? (ended, $"ended: {growth.EndCause}") : StillThere(plant, today);
            yield return new CountedLife(plant, Projections.PlantRows.NameOf(growth), growth.Begun ?? plant.Arrived, growth.Begun is not null, until, growth.Ended is not null, why);
        }
    }

    private static CountedLife WholePlant(EvidencePlant plant, DateOnly today)
    {
        var (until, why) = StillThere(plant, today);
        return new CountedLife(plant, plant.Name, plant.Arrived, false, until, plant.Left is not null && !IsGivenAway(plant.LeftBecause), why);
    }

    private static IEnumerable<CountedLife> Blooms(EvidencePlant plant, DateOnly today)
    {
        foreach (var spike in plant.Growths.SelectMany(growth => growth.Spikes))
        {
            if (spike.FirstFlower is { } first)
            {
                // A spike that was cut or broken in flower would have gone on.
                var cut = spike.LastFlower is null && spike.EndCause is SpikeEnd.CutOff or SpikeEnd.Broken or SpikeEnd.Eaten;
                var until = spike.LastFlower ?? spike.Ended ?? StillThere(plant, today).Until;
                yield return new CountedLife(plant, FactWords.Say($"bloom of {CountedLife.Text(first)}"), first, true, until, !cut && (spike.LastFlower ?? spike.Ended) is not null,
                    cut ? "cut or broken in flower: not counted" : spike.LastFlower is null && spike.Ended is null ? "in flower" : "over");
            }
        }
    }

    private static (DaySpan Until, string Why) StillThere(EvidencePlant plant, DateOnly today) =>
        plant.Left is { } left ? (left, $"the plant left: {plant.LeftBecause}") : (DaySpan.On(today), "still there");

    /// <summary>Sold and given away is no death; the words are the grower's own.</summary>
    private static bool IsGivenAway(string? because) =>
        because is not null && new[] { "given", "gave", "sold", "swap", "exchang", "gift", "lent" }.Any(word => because.Contains(word, StringComparison.OrdinalIgnoreCase));

    // Leaves begin to fall a month before the rest itself.
    private static bool IsShed(EvidencePlant plant, LeafEnd lost) => lost.Cause == LeafLoss.Shed
        || (!plant.IsEvergreen && lost.Cause is LeafLoss.Age or LeafLoss.Unknown && plant.Kind!.Rest is { } rest && (rest.IsSeason(lost.When.Middle, plant.South) || rest.IsSeason(lost.When.Middle.AddDays(31), plant.South)));
}
