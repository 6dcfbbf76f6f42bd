using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// Lives of all plants and answers given, kept in hand until the ledger grows: a life is read again only when something was written about its plant, an answer is worked out
/// once for all who ask it.
/// </summary>
internal sealed class EvidenceMemory(BenchDatabase database) : IDisposable
{
    private readonly SemaphoreSlim _reading = new(1, 1);
    private readonly Dictionary<Guid, EvidencePlant> _plants = [];
    private ConcurrentDictionary<string, Lazy<Task<object>>> _answers = new(StringComparer.Ordinal);
    private IReadOnlyList<EvidencePlant> _all = [];
    private long _position = -1;
    private DateOnly _today;
    private bool _south;

    /// <summary>The answer under a key, worked out by the first who asks since the ledger last grew.</summary>
    /// <param name="key">Everything the question says.</param>
    /// <param name="today">The bench's day: an answer of yesterday is none.</param>
    /// <param name="make">Works it out from the plants of that moment. Not cancelled with the one who asked first: others may wait for it.</param>
    /// <param name="cancel">Stops waiting.</param>
    public async Task<T> AnswerAsync<T>(string key, DateOnly today, Func<IReadOnlyList<EvidencePlant>, Task<T>> make, CancellationToken cancel) where T : class
    {
        var (plants, answers) = await RefreshAsync(today, cancel);
        var answer = answers.GetOrAdd(key, _ => new Lazy<Task<object>>(() => Task.Run(async () => (object)await make(plants), CancellationToken.None)));
        try
        {
            return (T)await answer.Value.WaitAsync(cancel);
        }
        catch
        {
            // What failed is tried again by the next who asks.
            if (answer.Value.IsFaulted)
            {
                answers.TryRemove(new KeyValuePair<string, Lazy<Task<object>>>(key, answer));
            }

            throw;
        }
    }

    private async Task<(IReadOnlyList<EvidencePlant> Plants, ConcurrentDictionary<string, Lazy<Task<object>>> Answers)> RefreshAsync(DateOnly today, CancellationToken cancel)
    {
        await _reading.WaitAsync(cancel);
        try
        {
            return await database.ReadAsync(async db =>
            {
                var newest = await db.Facts.MaxAsync(fact => (long?)fact.Position, cancel) ?? 0;
                if (newest < _position)
                {
                    // An older ledger was put back.
                    _plants.Clear();
                    _position = -1;
                }

                if (newest != _position)
                {
                    // Said of the bench, it changes what every plant's seasons mean.
                    var south = await BenchLatitude.OfAsync(db, cancel) < 0;
                    if (south != _south)
                    {
                        _plants.Clear();
                        (_south, _position) = (south, -1);
                    }

                    await ReadAsync(db, newest, cancel);
                    _all = [.. _plants.Values.OrderBy(plant => plant.Number)];
                }

                if (newest != _position || today != _today)
                {
                    (_position, _today, _answers) = (newest, today, new(StringComparer.Ordinal));
                }

                return (_all, _answers);
            }, cancel);
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
            var changed = await db.Facts.Where(fact => fact.Position > _position && fact.Position <= newest).Select(fact => new { fact.SubjectId, fact.Kind }).Distinct().ToListAsync(cancel);
            // A forgotten plant stands under the bench's id: then all are read again.
            if (!changed.Exists(fact => fact.Kind == FactKinds.NameOf<PlantForgotten>()))
            {
                var ids = changed.Select(fact => fact.SubjectId).Distinct().ToList();
                ids.ForEach(id => _plants.Remove(id));
                lives = lives.Where(life => ids.Contains(life.PlantId));
            }
            else
            {
                _plants.Clear();
            }
        }

        // One life at a time: together they are tens of megabytes.
        await foreach (var life in lives.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (EvidencePlant.Of(FactJson.Read<PlantStory>(life.Life), _south) is { } plant)
            {
                _plants[plant.Id] = plant;
            }
        }
    }

    public void Dispose() => _reading.Dispose();
}
