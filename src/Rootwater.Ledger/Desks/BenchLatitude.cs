using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>How far north or south the bench stands, as it was last said and not taken back.</summary>
internal static class BenchLatitude
{
    /// <summary>Degrees, south below 0; null where it was not said.</summary>
    public static async Task<double?> OfAsync(LedgerContext db, CancellationToken cancel)
    {
        var (kind, undo) = (FactKinds.NameOf<LatitudeSet>(), FactKinds.NameOf<FactUndone>());
        var told = await PlainRows.FactsAsync(db, [Guid.Empty], [kind, undo], cancel);
        return PlantProjection.Standing(told).LastOrDefault(fact => fact.Kind == kind) is { } stands && FactKinds.Read(stands.Kind, stands.Version, stands.Payload) is LatitudeSet set ? set.Degrees : null;
    }
}
