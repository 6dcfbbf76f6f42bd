using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>Whether a fact can be true of a plant whose story so far is known: what it speaks of is there, and the dates are in an order that can be.</summary>
internal static class StoryChecks
{
    /// <param name="story">As told so far, without this fact.</param>
    /// <param name="when">When it was.</param>
    /// <param name="payload">What it says.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static void Check(PlantStory story, FactWhen when, FactPayload payload, FactProblems problems)
    {
        if (payload is PlantArrived)
        {
            return;
        }

        NotBefore(when, story.Arrived!.When.Span, "it came", problems);
        if (payload is not (PlantNoted or PlantDetermined or WrongArrival or PlantParentage or PhotoAdded or VirusTested or PlantLost) && story.Lost is { } lost)
        {
            NotAfter(when, lost.When.Span, "it left the bench", problems);
        }

        try
        {
            CheckKind(story, when, payload, problems);
        }
        catch (EntryException missing)
        {
            problems.AddAll(missing.Problems);
        }
    }

    private static void CheckKind(PlantStory story, FactWhen when, FactPayload payload, FactProblems problems)
    {
        switch (payload)
        {
            case PlantLost when story.Lost is { } gone:
                problems.Add("plant", gone.When.ToText(), "a plant that is still here; correct the loss that stands");
                break;
            case WrongArrival when story.Wrong is { } wrong:
                problems.Add("wrong arrival", wrong.Ordered, "one per plant; correct the one that stands");
                break;
            case QuarantineBegun when story.Quarantines.Find(quarantine => quarantine.Ended is null) is { } open:
                problems.Add("quarantine", Day(open.Begun), "a plant that is not kept apart already");
                break;
            case QuarantineEnded when !story.Quarantines.Exists(quarantine => quarantine.Ended is null && quarantine.Begun <= when.LatestDay):
                problems.Add("quarantine", null, "a plant that is kept apart");
                break;
            case GrowthSeen seen:
                New("growth", seen.GrowthId, story.Growths.Exists(growth => growth.Id == seen.GrowthId), problems);
                if (story.Growths.Exists(growth => growth.Number == seen.Number))
                {
                    problems.Add("number", FactProblems.Say(seen.Number), "a number that no growth of this plant has");
                }

                break;
            case GrowthEnded ended:
                var ending = story.GrowthOf(ended.GrowthId);
                NotYet("growth", ending.Ended, problems);
                NotBefore(when, ending.Begun, "it began", problems);
                NotBefore(when, Latest(ending.Leaves.Select(leaf => leaf.FirstSeen)), "its last leaf was seen", problems);
                break;
            case LeafSeen seen:
                var bearer = story.GrowthOf(seen.GrowthId);
                New("leaf", seen.LeafId, story.Growths.Exists(growth => growth.Leaves.Any(leaf => leaf.Id == seen.LeafId)), problems);
                if (bearer.Leaves.Any(leaf => leaf.Position == seen.Position))
                {
                    problems.Add("position", FactProblems.Say(seen.Position), "a position that no leaf of this growth has");
                }

                if (!seen.ThereOnArrival)
                {
                    NotBefore(when, bearer.Begun, "its growth began", problems);
                    NotAfter(when, bearer.Ended, "its growth ended", problems);
                }

                break;
            case LeafMeasured measured:
                OnLeaf(story, measured.LeafId, when, problems);
                break;
            case LeafMarked marked:
                OnLeaf(story, marked.LeafId, when, problems);
                break;
            case LeafLost gone:
                var leaf = OnLeaf(story, gone.LeafId, when, problems);
                NotYet("leaf", leaf.Lost?.When, problems);
                NotBefore(when, Latest(leaf.Marks.Select(mark => mark.When).Concat(leaf.Measures.Select(measure => DaySpan.On(measure.On)))), "it was last looked at", problems);
                break;
            case NewRootsSeen { GrowthId: { } growthId }:
                var rooting = story.GrowthOf(growthId);
                NotBefore(when, rooting.Begun, "its growth began", problems);
                NotAfter(when, rooting.Ended, "its growth ended", problems);
                break;
            case SpikeSeen seen:
                var flowering = story.GrowthOf(seen.GrowthId);
                New("spike", seen.SpikeId, story.Growths.Exists(growth => growth.Spikes.Any(spike => spike.Id == seen.SpikeId)), problems);
                NotBefore(when, flowering.Begun, "its growth began", problems);
                NotAfter(when, flowering.Ended, "its growth ended", problems);
                break;
            case SpikeMeasured measured:
                OnSpike(story, measured.SpikeId, when, problems);
                break;
            case BloomDescribed said:
                OnSpike(story, said.SpikeId, when, problems);
                break;
            case BloomOpened opened:
                NotYet("bloom", OnSpike(story, opened.SpikeId, when, problems).FirstFlower, problems);
                break;
            case BloomOver over:
                var bloom = OnSpike(story, over.SpikeId, when, problems);
                NotYet("bloom", bloom.LastFlower, problems);
                if (bloom.FirstFlower is null)
                {
                    problems.Add("spike", over.SpikeId.ToString(), "a spike whose first flower was seen");
                }

                NotBefore(when, bloom.FirstFlower, "its first flower opened", problems);
                break;
            case SpikeEnded ended:
                var spike = OnSpike(story, ended.SpikeId, when, problems);
                NotYet("spike", spike.Ended, problems);
                NotBefore(when, Latest(spike.Measures.Select(measure => DaySpan.On(measure.On)).Concat(spike.LastFlower is { } last ? [last] : [])), "it was last looked at", problems);
                break;
        }
    }

    private static Leaf OnLeaf(PlantStory story, Guid leafId, FactWhen when, FactProblems problems)
    {
        var (growth, leaf) = story.LeafOf(leafId);
        NotBefore(when, leaf.FirstSeen, "it was first seen", problems);
        NotAfter(when, leaf.Lost?.When, "it was lost", problems);
        NotAfter(when, growth.Ended, "its growth ended", problems);
        return leaf;
    }

    private static Spike OnSpike(PlantStory story, Guid spikeId, FactWhen when, FactProblems problems)
    {
        var spike = story.SpikeOf(spikeId).Spike;
        NotBefore(when, spike.FirstSeen, "the spike was first seen", problems);
        NotAfter(when, spike.Ended, "the spike ended", problems);
        return spike;
    }

    private static void New(string field, Guid id, bool there, FactProblems problems)
    {
        if (there || id == Guid.Empty)
        {
            problems.Add(field, id.ToString(), $"a new id: this {field} is there already");
        }
    }

    private static void NotYet(string field, DaySpan? was, FactProblems problems)
    {
        if (was is { } day)
        {
            problems.Add(field, Day(day.Earliest), "said once; correct the fact that stands");
        }
    }

    // As long as the two can have been in this order, they may have been.
    private static void NotBefore(FactWhen when, DaySpan? earlier, string what, FactProblems problems)
    {
        if (earlier is { } span && when.LatestDay < span.Earliest)
        {
            problems.Add("when", when.ToText(), $"not before {what} ({Day(span.Earliest)})");
        }
    }

    private static void NotAfter(FactWhen when, DaySpan? later, string what, FactProblems problems)
    {
        if (later is { } span && when.EarliestDay > span.Latest)
        {
            problems.Add("when", when.ToText(), $"not after {what} ({Day(span.Latest)})");
        }
    }

    private static DaySpan? Latest(IEnumerable<DaySpan> spans) => spans.Select(span => (DaySpan?)span).MaxBy(span => span!.Value.Earliest);

    private static string Day(DateOnly day) => FactWords.Say($"{day:yyyy-MM-dd}");
}
