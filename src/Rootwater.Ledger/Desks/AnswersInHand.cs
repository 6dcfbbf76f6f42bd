namespace Rootwater.Ledger.Desks;

/// <summary>
/// A desk's last answers, kept until something is written, the pots are learned anew or the day changes. Everything a desk shows follows from the facts,
/// so that the newest fact says whether an answer still stands.
/// </summary>
internal sealed class AnswersInHand<TAnswer>
    where TAnswer : class
{
    // A page and what narrows it: more would only fill the memory.
    private const int Most = 4;
    private readonly Lock _lock = new();
    private readonly Dictionary<object, TAnswer> _answers = [];
    private (NewestFact Newest, object? Learned) _at = (new(-1, default), null);

    /// <param name="db">The bench.</param>
    /// <param name="question">All that the answer depends on beside the facts, the day among it; compared by value.</param>
    /// <param name="work">Works the answer out.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<TAnswer> OfAsync(LedgerContext db, object question, Func<Task<TAnswer>> work, CancellationToken cancel)
    {
        var at = (await NewestFact.OfAsync(db, cancel), (object?)db.Learned);
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
