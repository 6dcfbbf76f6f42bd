using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger;

/// <summary>The one way into the ledger: facts and what follows from them are written in one transaction, or not at all.</summary>
public sealed class FactLog(BenchDatabase database, TimeProvider clock, string who = "grower", string device = "desk")
{
    /// <summary>On what facts are entered where nobody says another.</summary>
    internal string Device => device;

    /// <summary>Writes facts. One that stands there already under its id is left as it is.</summary>
    /// <returns>How many were new.</returns>
    /// <exception cref="EntryException">A fact speaks of something that is not on the bench. Nothing was saved.</exception>
    /// <exception cref="LedgerProblem">The database cannot be written, or an id is taken by a different fact. Nothing was saved.</exception>
    /// <remarks>Facts are stamped as they are enumerated, so that a program may move its clock between them.</remarks>
    public async Task<int> AppendAsync(IEnumerable<NewFact> facts, CancellationToken cancel = default) => (await AppendAsync(facts, null, null, null, cancel)).Written;

    public Task<int> AppendAsync(NewFact fact, CancellationToken cancel = default) => AppendAsync([fact], cancel);

    /// <summary>The same, with a gate that each new fact must pass, and a name for who tells it and on what.</summary>
    internal Task<WriteReceipt> AppendAsync(IEnumerable<NewFact> facts, Gate? gate, string? teller, string? on, CancellationToken cancel)
    {
        var stamped = facts.Select(fact => (Fact: fact, Recorded: clock.GetUtcNow())).ToList();
        return database.WriteAsync(db => AppendAsync(db, stamped, gate, teller ?? who, on ?? device, cancel), cancel);
    }

    /// <summary>Inside a transaction that does more than this.</summary>
    internal Task AppendWithinAsync(LedgerContext db, NewFact fact, CancellationToken cancel) => AppendAsync(db, [(fact, clock.GetUtcNow())], null, who, device, cancel);

    /// <summary>The same as writing, taken back before anything is kept: whether it would go, and if not, why.</summary>
    internal async Task<WriteReceipt> TryAsync(IEnumerable<NewFact> facts, Gate gate, CancellationToken cancel)
    {
        var stamped = facts.Select(fact => (Fact: fact, Recorded: clock.GetUtcNow())).ToList();
        var receipt = new WriteReceipt(0, 0);
        try
        {
            await database.WriteAsync<bool>(async db =>
            {
                receipt = await AppendAsync(db, stamped, gate, who, device, cancel);
                throw new TakenBack();
            }, cancel);
        }
        catch (TakenBack)
        {
            // The transaction is gone with it.
        }

        return receipt;
    }

    private sealed class TakenBack : Exception;

    /// <summary>Looks at a fact before it is told, inside the transaction that will write it.</summary>
    internal delegate Task Gate(LedgerContext db, NewFact fact, FactWhen when, CancellationToken cancel);

    private static async Task<WriteReceipt> AppendAsync(
        LedgerContext db, List<(NewFact Fact, DateTimeOffset Recorded)> stamped, Gate? gate, string who, string device, CancellationToken cancel)
    {
        db.TrackUntilSent();
        var position = await NewestFact.PositionAsync(db, cancel);
        // An empty ledger knows no id yet: the demo's hundreds of facts need not ask for each.
        var mayKnow = position > 0;
        var zone = (await db.Benches.AsNoTracking().FirstOrDefaultAsync(cancel))?.Zone;
        var (added, there) = (0, 0);
        foreach (var (fact, recorded) in stamped)
        {
            var (kind, version, json) = FactKinds.Write(fact.Payload);
            zone = fact.Payload is BenchOpened opened ? opened.Zone : zone;
            if ((mayKnow ? await db.Facts.FindAsync([fact.Id], cancel) : db.Facts.Local.FindEntry(fact.Id)?.Entity) is { } known)
            {
                // What was forgotten since it was sent first stays forgotten.
                if (known.Kind != s_emptied && (known.Kind != kind || known.Payload != json))
                {
                    throw new LedgerProblem(LedgerFault.Conflict, $"The id {fact.Id} already stands for another fact ({known.Kind}). Nothing was saved: use a new id.");
                }

                there++;
                continue;
            }

            var when = fact.When ?? BenchClock.MinuteAt(recorded, zone ?? throw NoBench());
            if (gate is not null)
            {
                try
                {
                    await gate(db, fact, when, cancel);
                }
                catch (EntryException refused)
                {
                    throw new EntryException([.. refused.Problems.Select(problem => problem with { FactId = fact.Id })]);
                }
            }

            var row = Row(fact, (kind, version, json), when, recorded, ++position, who, device);
            db.Facts.Add(row);
            await Projector.ApplyAsync(db, row, fact.Payload, cancel);
            added++;
        }

        await db.SendAsync(cancel);
        return new WriteReceipt(added, there);
    }

    /// <summary>A new fact as it will stand in the ledger.</summary>
    internal static Fact Row(NewFact fact, (string Kind, int Version, string Json) payload, FactWhen when, DateTimeOffset recorded, long position, string who, string device) => new()
    {
        Id = fact.Id,
        Position = position,
        Kind = payload.Kind,
        Version = payload.Version,
        Payload = payload.Json,
        SubjectId = fact.SubjectId,
        Precision = when.Precision,
        Earliest = FactWhen.ToStored(when.Earliest),
        Latest = FactWhen.ToStored(when.Latest),
        Zone = when.Zone,
        RecordedMicroseconds = (recorded - DateTimeOffset.UnixEpoch).Ticks / TimeSpan.TicksPerMicrosecond,
        Who = who,
        Device = device,
        Sequence = fact.Sequence,
        Corrects = fact.Corrects,
    };

    private static readonly string s_emptied = FactKinds.NameOf<FactEmptied>();

    private static EntryException NoBench() => new("bench", null, "must be opened first: start the demo bench, or open your own");
}
