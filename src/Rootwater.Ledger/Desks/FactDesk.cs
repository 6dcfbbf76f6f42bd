using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>The door of the ledger.</summary>
public sealed class FactDesk(BenchDatabase database, FactLog log, TimeProvider clock) : IFactDesk
{
    private const int MostAtOnce = 5000;
    private readonly FactGate _gate = new(clock);

    public async Task<WriteReceipt> WriteAsync(IReadOnlyList<NewFact> facts, string? who = null, string? device = null, CancellationToken cancel = default)
    {
        var problems = new FactProblems();
        problems.Text("who", who, 100, required: false);
        problems.Text("device", device, 100, required: false);
        problems.Range("facts", facts.Count, 0, MostAtOnce, "at once");
        problems.Refuse();
        // What is believed of the roots goes in with each feed; nobody hands it in, so it passes no gate and is not counted.
        var believed = await BelievedForecasts.OfFeedsAsync(database, facts, clock, cancel);
        var ours = believed.Select(forecast => forecast.Id).ToHashSet();
        var receipt = await log.AppendAsync([.. facts, .. believed], GateAsync, who, device, cancel);
        return receipt with { Written = receipt.Written - believed.Count };

        async Task GateAsync(LedgerContext db, NewFact fact, FactWhen when, CancellationToken token)
        {
            if (!ours.Contains(fact.Id))
            {
                await _gate.CheckAsync(db, fact, when, token);
                await SecondTick.CheckAsync(db, fact, when, device ?? log.Device, token);
            }
        }
    }

    public async Task UndoAsync(Guid factId, Guid undoId, string? why = null, CancellationToken cancel = default)
    {
        var fact = await database.ReadAsync(db => db.Facts.FirstOrDefaultAsync(row => row.Id == factId, cancel), cancel)
            ?? throw new EntryException("fact", factId.ToString(), "a fact in this ledger");
        var undo = new NewFact { Id = undoId, SubjectId = fact.SubjectId, Payload = new FactUndone(factId, why), Corrects = factId };
        var known = await database.ReadAsync(db => db.Facts.AnyAsync(row => row.Id == undoId, cancel), cancel);
        // A can's ticks and pourings have a fact of their own that takes them back.
        switch (FactKinds.Read(fact.Kind, fact.Version, fact.Payload))
        {
            case CanStepDone or CanPoured when !known && !await StandsAsync(factId, cancel):
                throw new EntryException("fact", factId.ToString(), "a tick or a pouring that stands now");
            case CanStepDone done:
                await log.AppendAsync(undo with { Payload = new CanStepUndone(done.CanId, done.Step) }, cancel);
                break;
            case CanRepaired repaired:
                await log.AppendAsync(undo with { Payload = new CanRepairUndone(repaired.CanId) }, cancel);
                break;
            case CanPoured poured:
                await log.AppendAsync(undo with { Payload = new CanPourUndone(poured.CanId) }, cancel);
                break;
            default:
                await log.AppendAsync([undo], _gate.CheckAsync, null, null, cancel);
                break;
        }
    }

    private Task<bool> StandsAsync(Guid factId, CancellationToken cancel) => database.ReadAsync(async db =>
        await db.CanSteps.AnyAsync(step => step.DoneFactId == factId, cancel) || await db.Cans.AnyAsync(can => can.PouredFactId == factId, cancel), cancel);

    public Task<IReadOnlyList<FactLine>> RecentAsync(TimeSpan within, int most = 50, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<FactLine>>(async db =>
    {
        var now = clock.GetUtcNow();
        var since = (now - within - DateTimeOffset.UnixEpoch).Ticks / TimeSpan.TicksPerMicrosecond;
        var emptied = FactKinds.NameOf<FactEmptied>();
        var undo = FactKinds.NameOf<FactUndone>();
        var forecast = FactKinds.NameOf<RootForecastBelieved>();
        var facts = (await db.Facts.Where(fact => fact.Kind != emptied && fact.Kind != undo && fact.Kind != forecast).OrderByDescending(fact => fact.Position).Take(Math.Clamp(most, 1, 1000)).ToListAsync(cancel))
            .Where(fact => fact.RecordedMicroseconds >= since).ToList();
        return await LinesAsync(db, facts, now, cancel);
    }, cancel);

    public Task<IReadOnlyList<FactLine>> OfPlantAsync(Guid plantId, int most = 500, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<FactLine>>(async db =>
    {
        var emptied = FactKinds.NameOf<FactEmptied>();
        var undo = FactKinds.NameOf<FactUndone>();
        var facts = await db.Facts.Where(fact => fact.SubjectId == plantId && fact.Kind != emptied && fact.Kind != undo).OrderByDescending(fact => fact.Position).Take(Math.Clamp(most, 1, 50_000)).ToListAsync(cancel);
        return await LinesAsync(db, facts, clock.GetUtcNow(), cancel);
    }, cancel);

    private static async Task<IReadOnlyList<FactLine>> LinesAsync(LedgerContext db, IReadOnlyList<Fact> facts, DateTimeOffset now, CancellationToken cancel)
    {
        var undo = FactKinds.NameOf<FactUndone>();
        var ids = facts.Select(fact => (Guid?)fact.Id).ToList();
        var later = (await db.Facts.Where(fact => ids.Contains(fact.Corrects)).OrderBy(fact => fact.Position).ToListAsync(cancel)).ToLookup(fact => fact.Corrects!.Value);
        var laterIds = later.SelectMany(group => group).Select(fact => (Guid?)fact.Id).ToList();
        var laterUndone = (await db.Facts.Where(fact => laterIds.Contains(fact.Corrects) && fact.Kind == undo).Select(fact => fact.Corrects!.Value).ToListAsync(cancel)).ToHashSet();
        var plants = facts.Select(fact => fact.SubjectId).Distinct().ToList();
        var stories = (await db.PlantLives.Where(life => plants.Contains(life.PlantId)).ToListAsync(cancel)).ToDictionary(life => life.PlantId, life => FactJson.Read<PlantStory>(life.Life));
        return
        [
            .. facts.Select(fact =>
            {
                var payload = FactKinds.Read(fact.Kind, fact.Version, fact.Payload);
                var takenBack = later[fact.Id].Any(by => by.Kind == undo || FactKinds.Read(by.Kind, by.Version, by.Payload) is CanStepUndone or CanPourUndone or CanRepairUndone);
                var correctedBy = later[fact.Id].LastOrDefault(by => by.Kind == fact.Kind && !laterUndone.Contains(by.Id))?.Id;
                return new FactLine
                {
                    Id = fact.Id,
                    Kind = fact.Kind,
                    SubjectId = fact.SubjectId,
                    Words = FactWords.Of(payload, stories.GetValueOrDefault(fact.SubjectId)),
                    When = fact.When,
                    RecordedAt = fact.RecordedAt,
                    Who = fact.Who,
                    TakenBack = takenBack,
                    CorrectedBy = correctedBy,
                    CanBeUndone = !takenBack && correctedBy is null && now - fact.RecordedAt <= FactGate.Undoable
                        && (UndoProjection.CanBeUndone(payload) || payload is CanStepDone or CanPoured or CanRepaired),
                    Payload = payload,
                };
            }),
        ];
    }
}
