using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// What of every plant's life the walk needs, kept in hand: whole lives of years are read once, and after that only those of plants about which
/// something was written since.
/// </summary>
internal sealed class LivesInHand : IDisposable
{
    private readonly SemaphoreSlim _reading = new(1, 1);
    private readonly Dictionary<Guid, Signs> _signs = [];
    private long _position = -1;

    /// <summary>Of the plants that stand here; one of which nothing is told is left out.</summary>
    public async Task<IReadOnlyDictionary<Guid, Signs>> OfAsync(LedgerContext db, CancellationToken cancel)
    {
        await _reading.WaitAsync(cancel);
        try
        {
            var newest = await db.Facts.MaxAsync(fact => (long?)fact.Position, cancel) ?? 0;
            if (newest < _position)
            {
                // An older ledger was put back.
                _signs.Clear();
                _position = -1;
            }

            if (newest > _position)
            {
                await ReadAsync(db, newest, cancel);
                _position = newest;
            }

            return _signs.ToDictionary();
        }
        finally
        {
            _reading.Release();
        }
    }

    private async Task ReadAsync(LedgerContext db, long newest, CancellationToken cancel)
    {
        var lives = db.PlantLives.AsQueryable();
        if (_position >= 0)
        {
            var changed = await db.Facts.Where(fact => fact.Position > _position && fact.Position <= newest).Select(fact => fact.SubjectId).Distinct().ToListAsync(cancel);
            foreach (var id in changed)
            {
                _signs.Remove(id);
            }

            lives = lives.Where(life => changed.Contains(life.PlantId));
        }

        await foreach (var life in lives.AsAsyncEnumerable().WithCancellation(cancel))
        {
            var story = FactJson.Read<PlantStory>(life.Life);
            if (story.Lost is null)
            {
                _signs[life.PlantId] = new Signs
                {
                    StatesOn = story.States.Count > 0 ? story.States[^1].When.EarliestDay : null,
                    Growths = [.. story.Growths.Select(Slim)],
                    NewRootsOn = story.NewRoots.Count > 0 ? story.NewRoots.Max(seen => seen.When.Latest) : null,
                };
            }
        }
    }

    // Sizes over the years are most of a life and decide nothing on a walk.
    private static Growth Slim(Growth growth) => growth with
    {
        Leaves = [.. growth.Leaves.Select(leaf => leaf with { Measures = [] })],
        Spikes = [.. growth.Spikes.Select(spike => spike with { Measures = [.. spike.Measures.Where(measure => measure.LengthMillimetres is not null).TakeLast(1).Union(spike.Measures.TakeLast(1))] })],
    };

    public void Dispose() => _reading.Dispose();

    internal sealed record Signs
    {
        public required DateOnly? StatesOn { get; init; }
        public required IReadOnlyList<Growth> Growths { get; init; }
        public required DateOnly? NewRootsOn { get; init; }

        /// <summary>What lives: growths with the leaves and spikes that are still on them.</summary>
        public IReadOnlyList<Growth> Living { get => field ??= [.. Growths.Where(growth => growth.Ended is null).Select(Alive)]; }

        private static Growth Alive(Growth growth) => growth with
        {
            Leaves = [.. growth.Leaves.Where(leaf => leaf.Lost is null)],
            Spikes = [.. growth.Spikes.Where(spike => spike.Ended is null)],
        };
    }
}
