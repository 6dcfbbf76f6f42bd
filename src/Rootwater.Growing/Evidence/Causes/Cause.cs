namespace Rootwater.Growing.Evidence.Causes;

/// <summary>A cause whose likelihoods stand in the tables.</summary>
public abstract class Cause(string id) : ICause
{
    public string Id { get; } = id;

    public double Prior => CauseTables.Facts[Id].Prior;

    public double Likelihood(string clue, string value) => CauseTables.Likelihood(Id, clue, value);

    public virtual IEnumerable<RecordClue> FromRecords(CauseRecords records) => OnNeighbours(records);

    /// <summary>The same on neighbours makes what is contagious likelier.</summary>
    protected IEnumerable<RecordClue> OnNeighbours(CauseRecords records)
    {
        if (CauseTables.Facts[Id].Contagious && records.OnNeighbours.Contains(Id))
        {
            yield return new RecordClue($"{CauseTables.Facts[Id].Name} was found on a neighbour", 4);
        }
    }
}

/// <summary>A shortage of an element: the ledger's supply speaks to it.</summary>
public abstract class Shortage(string id, string element) : Cause(id)
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.Supply.TryGetValue(element, out var share))
        {
            var words = FormattableString.Invariant($"{100 * share:0} % of the {element} it wants was given over the last {records.SupplyWeeks:0} weeks");
            yield return new RecordClue(words, share switch { < 0.25 => 6, < 0.5 => 3, < 0.8 => 1.5, < 1.5 => 0.35, _ => 0.2 });
        }
    }
}

/// <summary>Too much of an element: more than its want, or, where no want names it, near the most that a feed may hold.</summary>
public abstract class Excess(string id, string element) : Cause(id)
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.Supply.TryGetValue(element, out var share) && share > 0)
        {
            var words = FormattableString.Invariant($"{100 * share:0} % of the {element} it wants was given over the last {records.SupplyWeeks:0} weeks");
            yield return new RecordClue(words, share switch { > 3 => 5, > 2 => 3, > 1.3 => 1.2, _ => 0.3 });
        }
        else if (records.OfCeiling.TryGetValue(element, out var most))
        {
            var words = FormattableString.Invariant($"{element} in what was poured over the last {records.SupplyWeeks:0} weeks at {100 * most:0} % of the most it may be");
            yield return new RecordClue(words, most switch { > 1.5 => 6, > 1 => 3, > 0.6 => 1.2, _ => 0.25 });
        }
    }
}
