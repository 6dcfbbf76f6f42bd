using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Projections;

/// <summary>Plants, their pots, growths, leaves and spikes.</summary>
internal static class PlantProjection
{
    private static readonly HashSet<Type> s_types =
    [
        typeof(PlantArrived), typeof(PlantDetermined), typeof(WrongArrival), typeof(PlantParentage), typeof(PlantStatesSeen), typeof(PlantWantChosen),
        typeof(PlantMoved), typeof(PlantPotted), typeof(PlantLost), typeof(QuarantineBegun), typeof(QuarantineEnded), typeof(PestChecked),
        typeof(VirusTested), typeof(PlantNoted), typeof(NewRootsSeen), typeof(GrowthSeen), typeof(GrowthEnded), typeof(LeafSeen), typeof(LeafMeasured),
        typeof(LeafMarked), typeof(LeafLost), typeof(SpikeSeen), typeof(SpikeMeasured), typeof(BloomOpened), typeof(BloomDescribed), typeof(BloomOver),
        typeof(SpikeEnded),
    ];

    private static readonly string[] s_kinds = [.. FactKinds.All.Where(pair => s_types.Contains(pair.Value.Type) || pair.Value.Type == typeof(FactUndone)).Select(pair => pair.Key)];

    /// <summary>Whether a payload is part of a plant's story.</summary>
    public static bool IsOfAPlant(FactPayload payload) => s_types.Contains(payload.GetType());

    public static async Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel)
    {
        var plantId = fact.SubjectId;
        if (payload is PlantArrived)
        {
            if (await db.Stories.FindAsync(plantId, cancel) is not null)
            {
                throw new EntryException("plant", plantId.ToString(), "a plant that has not come yet: this one is on the bench");
            }

            var arrived = new PlantStory { PlantId = plantId };
            arrived.Tell(fact.When, payload);
            db.Stories.Set(arrived);
            return;
        }

        var story = await db.Stories.RequiredAsync(plantId, cancel);
        story.Tell(fact.When, payload);
        db.Stories.LifeChanged(plantId);
        if (payload is PlantPotted && story.LastGivenOn is { } last && fact.When.EarliestDay <= last)
        {
            await FeedingProjection.PotsChangedAsync(db, story, cancel);
        }
    }

    /// <summary>Tells a plant's life again from its facts up to a place in the ledger, without what was taken back; a correction stands where the corrected stood.</summary>
    public static async Task RetellAsync(LedgerContext db, Guid plantId, long upTo, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        var facts = await db.Facts.AsNoTracking()
            .Where(fact => fact.SubjectId == plantId && fact.Position <= upTo && s_kinds.Contains(fact.Kind))
            .OrderBy(fact => fact.Position).ToListAsync(cancel);
        var before = await db.Stories.FindAsync(plantId, cancel);
        var story = new PlantStory { PlantId = plantId };
        foreach (var fact in Standing(facts))
        {
            story.Tell(fact.When, FactKinds.Read(fact.Kind, fact.Version, fact.Payload));
        }

        if (before is not null)
        {
            (story.Drinks, story.LastFedOn, story.LastGivenOn, story.PhotoId) = (before.Drinks, before.LastFedOn, before.LastGivenOn, before.PhotoId);
        }

        db.Stories.Set(story);
        if (before is not null && !before.Pots.SequenceEqual(story.Pots))
        {
            await FeedingProjection.PotsChangedAsync(db, story, cancel);
        }
    }

    /// <summary>The facts that count, each where it (or what it corrects) was first told.</summary>
    /// <param name="facts">All of one subject, in the order of the ledger.</param>
    public static IEnumerable<Fact> Standing(IReadOnlyList<Fact> facts)
    {
        var undo = FactKinds.NameOf<FactUndone>();
        var undone = facts.Where(fact => fact.Kind == undo).Select(fact => fact.Corrects!.Value).ToHashSet();
        var corrected = new Dictionary<Guid, Fact>();
        foreach (var fact in facts.Where(fact => fact.Kind != undo && fact.Corrects is not null && !undone.Contains(fact.Id)))
        {
            corrected[fact.Corrects!.Value] = fact;
        }

        foreach (var fact in facts.Where(fact => fact.Kind != undo && fact.Corrects is null))
        {
            var stands = fact;
            while (corrected.TryGetValue(stands.Id, out var better))
            {
                stands = better;
            }

            if (!undone.Contains(stands.Id))
            {
                yield return stands;
            }
        }
    }
}
