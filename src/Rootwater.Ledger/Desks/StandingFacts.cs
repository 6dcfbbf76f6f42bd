using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>Facts of which no table follows, read where they stand: by subject, for that is what the ledger is indexed by. What was taken back or put right does not count.</summary>
internal static class StandingFacts
{
    /// <summary>What stands about some things, in the order it was written.</summary>
    public static async Task<IReadOnlyList<(Fact Fact, FactPayload Payload)>> AboutAsync(LedgerContext db, IReadOnlyCollection<Guid> subjects, CancellationToken cancel, params string[] kinds)
    {
        string[] wanted = [.. kinds, FactKinds.NameOf<FactUndone>()];
        var facts = await PlainRows.FactsAsync(db, subjects, wanted, cancel);
        return [.. PlantProjection.Standing(facts).Select(fact => (fact, FactKinds.Read(fact.Kind, fact.Version, fact.Payload)))];
    }
}
