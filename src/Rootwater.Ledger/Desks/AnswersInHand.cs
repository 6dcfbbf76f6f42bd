using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// A desk's last answers, kept until something is written, the pots are learned anew or the day changes. Everything a desk shows follows from the facts,
/// so that the newest fact, by place and id, says whether an answer still stands; the id, because an older ledger may have been put back.
/// </summary>
/// <remarks>The newest fact is read before the answer is worked out: what is written meanwhile only makes the answer be worked out once more.</remarks>
internal sealed class AnswersInHand<TAnswer>
    where TAnswer : class
{
    // A page and what narrows it: more would only fill the memory.
    private const int Most = 4;
    private readonly Lock _lock = new();
    private readonly Dictionary<object, TAnswer> _answers = [];
    private (long Position, Guid Id, object? Learned) _at = (-1, default, null);

    /// <param name="db">The bench.</param>
    /// <param name="question">All that the answer depends on beside the facts, the day among it; compared by value.</param>
    /// <param name="work">Works the answer out.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<TAnswer> OfAsync(LedgerContext db, object question, Func<Task<TAnswer>> work, CancellationToken cancel)
    {
        var newest = await db.Facts.OrderByDescending(fact => fact.Position).Select(fact => new { fact.Position, fact.Id }).FirstOrDefaultAsync(cancel);
        var at = (newest?.Position ?? 0, newest?.Id ?? default, (object?)db.Learned);
        lock (_lock)
        {
            if (_at == at && _answers.TryGetValue(question, out var known))
            {
                return known;
            }
        }

        var answer = await work();
        lock (_lock)
        {
            if (_at != at || _answers.Count >= Most)
            {
                _answers.Clear();
                _at = at;
            }

            return _answers[question] = answer;
        }
    }
}
