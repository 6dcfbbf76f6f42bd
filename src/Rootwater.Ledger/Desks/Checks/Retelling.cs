using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>Whether a plant's life still holds together when one of its facts is taken back or put right.</summary>
internal static class Retelling
{
    /// <summary>What would be wrong then and is not wrong now.</summary>
    /// <param name="db">In the transaction of the writing.</param>
    /// <param name="plantId">The plant.</param>
    /// <param name="wrongId">The fact that stands now and shall not.</param>
    /// <param name="better">What takes its place; null where it is taken back.</param>
    /// <param name="cancel">Cancels.</param>
    public static async Task<IReadOnlyList<EntryProblem>> NewProblemsAsync(
        LedgerContext db, Guid plantId, Guid wrongId, (FactWhen When, FactPayload Payload)? better, CancellationToken cancel)
    {
        await db.SendRowsAsync(cancel);
        var facts = await db.Facts.AsNoTracking().Where(fact => fact.SubjectId == plantId).OrderBy(fact => fact.Position).ToListAsync(cancel);
        var standing = PlantProjection.Standing(facts).Select(fact => (fact.Id, fact.When, Payload: FactKinds.Read(fact.Kind, fact.Version, fact.Payload))).ToList();
        var before = Problems(standing.Select(told => (told.When, told.Payload)), plantId).ToHashSet();
        var restored = better is null ? facts.Find(fact => fact.Id == wrongId)?.Corrects is { } earlier ? facts.Find(fact => fact.Id == earlier) : null : null;
        var after = standing.SelectMany<(Guid Id, FactWhen When, FactPayload Payload), (FactWhen, FactPayload)>(told =>
            told.Id != wrongId ? [(told.When, told.Payload)]
            : better is { } put ? [put]
            : restored is not null ? [(restored.When, FactKinds.Read(restored.Kind, restored.Version, restored.Payload))]
            : []);
        return [.. Problems(after, plantId).Where(problem => !before.Contains(problem))];
    }

    private static List<EntryProblem> Problems(IEnumerable<(FactWhen When, FactPayload Payload)> told, Guid plantId)
    {
        var problems = new FactProblems();
        var story = new PlantStory { PlantId = plantId };
        foreach (var (when, payload) in told.Where(told => FactSubjects.IsPlant(told.Payload)))
        {
            if (story.Arrived is null && payload is not PlantArrived)
            {
                problems.Add("plant", FactWords.Of(payload, null), "an arrival that stands: take this back first, or forget the plant");
                return [.. problems.All];
            }

            var seen = problems.All.Count;
            StoryChecks.Check(story, when, payload, problems);
            if (problems.All.Count > seen || !PlantProjection.IsOfAPlant(payload))
            {
                continue; // said already what is wrong with it
            }

            try
            {
                story.Tell(when, payload);
            }
            catch (EntryException broken)
            {
                problems.AddAll(broken.Problems);
            }
        }

        return [.. problems.All];
    }
}
