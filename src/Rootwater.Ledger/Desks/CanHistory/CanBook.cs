using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>Everything the history of cans rests on, as of one place in the ledger.</summary>
internal sealed record CanBookPage(long Position, CanWorld World, IReadOnlyDictionary<Guid, KeptCan> Cans, IReadOnlyDictionary<Guid, BookedCan> Records, Reconciler Learned)
{
    public IReadOnlyDictionary<Guid, CanJudgement> Judgements { get => field ??= Learned.Cans.ToDictionary(can => can.CanId); }
}

/// <summary>
/// Keeps the reconciliation in hand: read and worked out once, after that only what was written since. A reading of the newest can costs that can; a
/// change further back is taken up from the last place kept before it.
/// </summary>
internal sealed class CanBook(BenchDatabase database) : IDisposable
{
    // A place kept costs a copy of the covariances; going on from one costs the cans since.
    private const int Between = 40;

    private readonly SemaphoreSlim _turning = new(1, 1);
    private readonly List<(int Events, Reconciler Learned)> _places = [];
    private List<object> _events = [];
    private CanBookPage? _page;

    public async Task<CanBookPage> OpenAsync(CancellationToken cancel)
    {
        await _turning.WaitAsync(cancel);
        try
        {
            return _page = await database.ReadAsync(db => TurnAsync(db, cancel), cancel);
        }
        finally
        {
            _turning.Release();
        }
    }

    private async Task<CanBookPage> TurnAsync(LedgerContext db, CancellationToken cancel)
    {
        var newest = await NewestFact.PositionAsync(db, cancel);
        if (_page is { } known && known.Position == newest)
        {
            return known;
        }

        var before = _page is { } page && page.Position < newest ? page : null; // an older ledger may have been put back
        var (cans, world) = (before?.Cans, before?.World);
        if (before is not null)
        {
            var since = await db.Facts.Where(fact => fact.Position > before.Position && fact.Position <= newest).Select(fact => new { fact.Kind, fact.SubjectId }).Distinct().ToListAsync(cancel);
            var changed = since.Where(fact => fact.Kind.StartsWith("can.", StringComparison.Ordinal) || before.Cans.ContainsKey(fact.SubjectId)).Select(fact => fact.SubjectId).Distinct().ToList();
            if (changed.Count > 0)
            {
                var read = (await CanRecords.ReadAsync(db, changed, cancel)).ToDictionary(can => can.Id);
                cans = before.Cans.Where(can => !changed.Contains(can.Key)).Concat(read).ToDictionary();
            }

            if (since.Any(fact => s_world.Contains(fact.Kind) || (fact.Kind == s_undo && before.World.Pens.Find(fact.SubjectId) is not null)))
            {
                world = null;
            }
            else if (changed.Count == 0)
            {
                return before with { Position = newest };
            }
        }

        cans ??= (await CanRecords.ReadAsync(db, null, cancel)).ToDictionary(can => can.Id);
        world ??= await WorldAsync(db, cancel);
        return await Task.Run(() => Work(newest, cans, world, before, cancel), cancel);
    }

    private CanBookPage Work(long newest, IReadOnlyDictionary<Guid, KeptCan> cans, CanWorld world, CanBookPage? before, CancellationToken cancel)
    {
        var records = new Dictionary<Guid, BookedCan>();
        foreach (var can in cans.Values)
        {
            cancel.ThrowIfCancellationRequested();
            var known = before?.Records.GetValueOrDefault(can.Id);
            if (known is not null && ReferenceEquals(before!.World, world) && ReferenceEquals(before.Cans[can.Id], can))
            {
                records[can.Id] = known;
            }
            else if (CanRecords.Of(can, world, cans) is { } record)
            {
                // The same again counts as the same, so that nothing is worked out anew for it.
                records[can.Id] = known is not null && FactJson.Write(known) == FactJson.Write(record) ? known : record;
            }
        }

        List<object> events =
        [
            .. records.Values.Select(each => (At: each.Record.MixedAt, Position: cans[each.Record.CanId].Position, Event: (object)each.Record))
                .Concat(world.Pens.ToReconcile().GroupBy(each => (each.PenId, each.At)).Select(group => (At: group.Key.At, Position: 0L, Event: (object)new Standards([.. group]))))
                .OrderBy(each => each.At).ThenBy(each => each.Position).Select(each => each.Event),
        ];
        return new CanBookPage(newest, world, cans, records, Learn(events, cancel));
    }

    private Reconciler Learn(List<object> events, CancellationToken cancel)
    {
        var same = 0;
        while (same < events.Count && same < _events.Count && events[same].Equals(_events[same]))
        {
            same++;
        }

        _places.RemoveAll(place => place.Events > same);
        var (done, learned) = _places.Count > 0 ? _places[^1] : (0, Reconciler.Of([]));
        for (var to = done; to < events.Count; done = to)
        {
            cancel.ThrowIfCancellationRequested();
            to = Math.Min(events.Count, to + Between);
            var some = events[done..to];
            learned = learned.With(some.OfType<CanRecord>(), some.OfType<Standards>().SelectMany(each => each.Read));
            _places.Add((to, learned));
        }

        // Of the places behind, every one costs memory: the last ones and every fifth before them are enough.
        for (var i = _places.Count - 4; i >= 0; i--)
        {
            if (_places[i].Events % (5 * Between) != 0)
            {
                _places.RemoveAt(i);
            }
        }

        _events = events;
        return learned;
    }

    private static async Task<CanWorld> WorldAsync(LedgerContext db, CancellationToken cancel)
    {
        var set = FactKinds.NameOf<ProductSet>();
        var products = await db.Facts.AsNoTracking().Where(fact => fact.Kind == set).OrderBy(fact => fact.Position).Select(fact => new { fact.Position, fact.Kind, fact.Version, fact.Payload }).ToListAsync(cancel);
        var lots = await db.Lots.Select(lot => new { lot.Id, lot.ProductId, lot.BoughtOn }).ToListAsync(cancel);
        return new CanWorld
        {
            Tools = (await db.Benches.FirstOrDefaultAsync(cancel))?.Tools ?? new(),
            Products = products.Select(fact => (fact.Position, ((ProductSet)FactKinds.Read(fact.Kind, fact.Version, fact.Payload)).Product)).ToLookup(each => each.Product.Id),
            Reports = (await db.WaterReports.ToListAsync(cancel)).ToLookup(report => report.WaterId),
            Waters = await db.Waters.ToDictionaryAsync(water => water.Id, water => water.Name, cancel),
            ProductOfLot = lots.ToDictionary(lot => lot.Id, lot => lot.ProductId),
            LotBoughtOn = lots.ToDictionary(lot => lot.Id, lot => lot.BoughtOn),
            Pens = await PensInLedger.ReadAsync(db, cancel),
        };
    }

    private static readonly string s_undo = FactKinds.NameOf<FactUndone>();

    private static readonly HashSet<string> s_world =
    [
        FactKinds.NameOf<ProductSet>(), FactKinds.NameOf<LotBought>(), FactKinds.NameOf<WaterSet>(), FactKinds.NameOf<WaterReported>(), FactKinds.NameOf<ToolsSet>(),
        .. PensInLedger.Kinds,
    ];

    public void Dispose() => _turning.Dispose();

    // What was read in one go, equal where all of it is.
    private sealed record Standards(IReadOnlyList<PenCalibration> Read)
    {
        public bool Equals(Standards? other) => other is not null && Read.SequenceEqual(other.Read);

        public override int GetHashCode() => Read.Count > 0 ? Read[0].GetHashCode() : 0;
    }
}
