using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// What a desk needs of every plant's life, kept in hand: whole lives of years are read once, one at a time because together they are tens of
/// megabytes, and after that only those of plants about which something was written since.
/// </summary>
/// <param name="take">What to keep of a life; null keeps nothing of it.</param>
internal sealed class KeptLives<T>(Func<PlantStory, T?> take) : IDisposable
    where T : class
{
    private readonly SemaphoreSlim _reading = new(1, 1);
    private readonly Dictionary<Guid, T> _kept = [];
    private long _position = -1;

    /// <summary>Of all plants, those that left too; one of which nothing is kept is left out.</summary>
    public async Task<IReadOnlyDictionary<Guid, T>> OfAsync(LedgerContext db, CancellationToken cancel)
    {
        await _reading.WaitAsync(cancel);
        try
        {
            var newest = await db.Facts.MaxAsync(fact => (long?)fact.Position, cancel) ?? 0;
            if (newest < _position)
            {
                // An older ledger was put back.
                _kept.Clear();
                _position = -1;
            }

            if (newest > _position)
            {
                await ReadAsync(db, newest, cancel);
                _position = newest;
            }

            return _kept.ToDictionary();
        }
        finally
        {
            _reading.Release();
        }
    }

    private async Task ReadAsync(LedgerContext db, long newest, CancellationToken cancel)
    {
        var lives = db.PlantLives.AsNoTracking();
        if (_position >= 0)
        {
            var changed = await db.Facts.Where(fact => fact.Position > _position && fact.Position <= newest).Select(fact => fact.SubjectId).Distinct().ToListAsync(cancel);
            foreach (var id in changed)
            {
                _kept.Remove(id);
            }

            // A plant that was forgotten leaves only a fact about the bench.
            if (changed.Contains(Guid.Empty))
            {
                var there = (await db.PlantLives.Select(life => life.PlantId).ToListAsync(cancel)).ToHashSet();
                foreach (var gone in _kept.Keys.Where(id => !there.Contains(id)).ToList())
                {
                    _kept.Remove(gone);
                }
            }

            lives = lives.Where(life => changed.Contains(life.PlantId));
        }

        await foreach (var life in lives.AsAsyncEnumerable().WithCancellation(cancel))
        {
            var story = FactJson.Read<PlantStory>(life.Life);
            if (take(story) is { } taken)
            {
                _kept[life.PlantId] = taken;
            }
        }
    }

    public void Dispose() => _reading.Dispose();
}
