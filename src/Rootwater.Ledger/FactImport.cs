using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Mappings;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger;

/// <summary>How far an import is.</summary>
/// <param name="Done">Facts looked at.</param>
/// <param name="Total">Null where it is not known beforehand.</param>
public sealed record ImportProgress(long Done, long? Total);

/// <summary>Brings in facts by the ten thousand, as another ledger holds them: with their own ids, times and tellers.</summary>
public sealed class FactImport(BenchDatabase database)
{
    private const int AtATime = 2000;

    /// <summary>Whether facts come from this bench's own backup: what once stood in the ledger comes back, whatever today's rules for entries say.</summary>
    internal bool AsItStands { get; init; }

    /// <summary>Writes facts in the order they come, behind those that stand; all or none. One that stands already under its id is left as it is.</summary>
    /// <param name="facts">Enumerated once; their positions do not count.</param>
    /// <param name="total">How many there are, for the progress.</param>
    /// <param name="progress">Told after each batch.</param>
    /// <param name="cancel">Cancels; nothing is kept then.</param>
    /// <exception cref="EntryException">A fact cannot be: out of range, about something else than it says, or of something that is not there.</exception>
    /// <exception cref="LedgerProblem">A kind this program does not know, or an id that stands for another fact.</exception>
    public Task<WriteReceipt> RunAsync(IEnumerable<Fact> facts, long? total = null, IProgress<ImportProgress>? progress = null, CancellationToken cancel = default) =>
        RunAsync(facts.Select(fact => (fact, (FactPayload?)null)), total, progress, cancel);

    /// <summary>The same, for a program that has the payloads at hand and need not read them back.</summary>
    internal Task<WriteReceipt> RunAsync(IEnumerable<(Fact Fact, FactPayload? Payload)> facts, long? total = null, IProgress<ImportProgress>? progress = null, CancellationToken cancel = default) =>
        database.WriteAsync(db => RunAsync(db, facts, total, progress, cancel), cancel);

    /// <summary>The same, taken back at the end: whether it would go, and if not, why.</summary>
    internal async Task TryAsync(IEnumerable<Fact> facts, long? total, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        try
        {
            await database.WriteAsync<bool>(async db =>
            {
                await RunAsync(db, facts.Select(fact => (fact, (FactPayload?)null)), total, progress, cancel);
                throw new TakenBack();
            }, cancel);
        }
        catch (TakenBack)
        {
            // The transaction is gone with it.
        }
    }

    private sealed class TakenBack : Exception;

    private async Task<WriteReceipt> RunAsync(
        LedgerContext db, IEnumerable<(Fact Fact, FactPayload? Payload)> facts, long? total, IProgress<ImportProgress>? progress, CancellationToken cancel)
    {
        db.TrackUntilSent();
        db.Many = new ManyRows(database, db);
        var position = await NewestFact.PositionAsync(db, cancel);
        var mayKnow = position > 0;
        var seen = new HashSet<Guid>();
        var (written, there) = (0, 0);
        foreach (var batch in facts.Chunk(AtATime))
        {
            var known = mayKnow ? await KnownAsync(db, [.. batch.Select(item => item.Fact)], cancel) : [];
            foreach (var (fact, read) in batch)
            {
                if (!seen.Add(fact.Id) || Stands(known, fact))
                {
                    there++;
                    continue;
                }

                var payload = read ?? FactKinds.Read(fact.Kind, fact.Version, fact.Payload);
                if (!AsItStands)
                {
                    Check(fact, payload);
                }

                var row = At(fact, ++position);
                db.AddOnce(row);
                await Projector.ApplyAsync(db, row, payload, cancel);
                written++;
            }

            await db.SendRowsAsync(cancel);
            db.ChangeTracker.Clear();
            progress?.Report(new ImportProgress(written + there, total));
        }

        await db.SendAsync(cancel);
        return new WriteReceipt(written, there);
    }

    private static bool Stands(Dictionary<Guid, (string Kind, string Payload)> known, Fact fact)
    {
        if (!known.TryGetValue(fact.Id, out var stands))
        {
            return false;
        }

        return stands == (fact.Kind, fact.Payload) || stands.Kind == FactKinds.NameOf<FactEmptied>() ? true
            : throw new LedgerProblem(LedgerFault.Conflict, $"The id {fact.Id} already stands for another fact ({stands.Kind}). Nothing was saved.");
    }

    private static async Task<Dictionary<Guid, (string Kind, string Payload)>> KnownAsync(LedgerContext db, Fact[] batch, CancellationToken cancel)
    {
        var ids = batch.Select(fact => fact.Id).ToList();
        return await db.Facts.AsNoTracking().Where(fact => ids.Contains(fact.Id)).Select(fact => new { fact.Id, fact.Kind, fact.Payload })
            .ToDictionaryAsync(fact => fact.Id, fact => (fact.Kind, fact.Payload), cancel);
    }

    private static void Check(Fact fact, FactPayload payload)
    {
        var problems = new FactProblems();
        FactShape.Check(payload, problems);
        if (FactSubjects.Of(payload) is { } subject && subject != fact.SubjectId)
        {
            problems.Add("subjectId", fact.SubjectId.ToString(), $"what the fact is about: {subject}");
        }

        if (problems.All.Count > 0)
        {
            throw new EntryException([.. problems.All.Select(problem => problem with { FactId = fact.Id })]);
        }
    }

    private static Fact At(Fact fact, long position) => new()
    {
        Id = fact.Id,
        Position = position,
        Kind = fact.Kind,
        Version = fact.Version,
        Payload = fact.Payload,
        SubjectId = fact.SubjectId,
        Precision = fact.Precision,
        Earliest = fact.Earliest,
        Latest = fact.Latest,
        Zone = fact.Zone,
        RecordedMicroseconds = fact.RecordedMicroseconds,
        Who = fact.Who,
        Device = fact.Device,
        Sequence = fact.Sequence,
        Corrects = fact.Corrects,
    };
}
