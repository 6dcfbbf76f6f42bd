using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>Cause sheets as their facts tell them. There is no table of them: they are few, and read once; after that only what was written since.</summary>
internal sealed class CauseCases : IDisposable
{
    private static readonly string[] s_kinds = [FactKinds.NameOf<CauseSeen>(), FactKinds.NameOf<CauseSettled>()];
    private readonly SemaphoreSlim _reading = new(1, 1);
    private readonly List<Fact> _facts = [];
    private IReadOnlyList<CauseCase> _cases = [];
    private long _position = -1;

    /// <summary>All sheets, oldest first.</summary>
    public async Task<IReadOnlyList<CauseCase>> OfAsync(LedgerContext db, CancellationToken cancel)
    {
        await _reading.WaitAsync(cancel);
        try
        {
            var newest = await NewestFact.PositionAsync(db, cancel);
            if (newest == _position)
            {
                return _cases;
            }

            var forgotten = FactKinds.NameOf<PlantForgotten>();
            if (newest < _position || await db.Facts.AnyAsync(fact => fact.Position > _position && fact.Kind == forgotten, cancel))
            {
                // An older ledger was put back, or facts were emptied.
                _facts.Clear();
                _position = -1;
            }

            _facts.AddRange(await db.Facts.AsNoTracking().Where(fact => fact.Position > _position && fact.Position <= newest && s_kinds.Contains(fact.Kind)).OrderBy(fact => fact.Position).ToListAsync(cancel));
            if (_facts.Count > 0)
            {
                var ids = _facts.ConvertAll(fact => (Guid?)fact.Id);
                var undo = FactKinds.NameOf<FactUndone>();
                _facts.AddRange(await db.Facts.AsNoTracking().Where(fact => fact.Position > _position && fact.Position <= newest && fact.Kind == undo && ids.Contains(fact.Corrects)).ToListAsync(cancel));
                _facts.Sort((one, other) => one.Position.CompareTo(other.Position));
            }

            _position = newest;
            return _cases = Fold(_facts);
        }
        finally
        {
            _reading.Release();
        }
    }

    private static List<CauseCase> Fold(IReadOnlyList<Fact> facts)
    {
        var cases = new Dictionary<Guid, CauseCase>();
        foreach (var fact in PlantProjection.Standing(facts))
        {
            switch (FactKinds.Read(fact.Kind, fact.Version, fact.Payload))
            {
                case CauseSeen seen:
                    var open = cases.GetValueOrDefault(seen.SheetId) ?? new CauseCase(seen.SheetId, seen.PlantId, seen.LeafId, fact.When.EarliestDay);
                    cases[seen.SheetId] = open.With(seen, fact);
                    break;
                case CauseSettled settled when cases.TryGetValue(settled.SheetId, out var known):
                    cases[settled.SheetId] = known with { SettledOn = fact.When.EarliestDay, Cause = settled.Cause, Evidence = settled.Evidence };
                    break;
            }
        }

        return [.. cases.Values.OrderBy(each => each.OpenedOn)];
    }

    public void Dispose() => _reading.Dispose();
}

/// <summary>One sheet.</summary>
internal sealed record CauseCase(Guid SheetId, Guid PlantId, Guid? LeafId, DateOnly OpenedOn)
{
    public DateOnly LastSeenOn { get; init; } = OpenedOn;

    /// <summary>What was found, by clue, with the fact that keeps it.</summary>
    public IReadOnlyDictionary<string, (string Value, Guid FactId)> Answers { get; init; } = new Dictionary<string, (string, Guid)>();

    /// <summary>As believed when something was last looked at.</summary>
    public IReadOnlyList<CauseBelieved> Ranked { get; init; } = [];
    public DateOnly? SettledOn { get; init; }
    public string? Cause { get; init; }
    public string? Evidence { get; init; }

    /// <summary>Where the cause it proved to be stood, 1 the first.</summary>
    public int? Rank => Cause is null ? null : Ranked.Select((each, i) => (each.Cause, Place: i + 1)).Where(each => each.Cause == Cause).Select(each => (int?)each.Place).FirstOrDefault();

    public CauseCase With(CauseSeen seen, Fact fact)
    {
        var answers = Answers.ToDictionary();
        foreach (var answer in seen.Answers)
        {
            if (answer.Value is { } value)
            {
                answers[answer.Clue] = (value, fact.Id);
            }
            else
            {
                answers.Remove(answer.Clue);
            }
        }

        return this with { Answers = answers, LastSeenOn = fact.When.EarliestDay > LastSeenOn ? fact.When.EarliestDay : LastSeenOn, Ranked = seen.Ranked is { Count: > 0 } ranked ? ranked : Ranked };
    }
}
