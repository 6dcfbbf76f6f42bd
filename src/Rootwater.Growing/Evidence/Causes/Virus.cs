namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Streaks on new leaves, later sunken; never to be told by eye.</summary>
internal sealed class Virus() : Cause("virus")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        foreach (var clue in OnNeighbours(records))
        {
            yield return clue;
        }

        if (records.DaysSinceVirusNegative is { } days)
        {
            yield return new RecordClue(FormattableString.Invariant($"tested negative {days:0} days ago"), days < 365 ? 0.15 : 0.5);
        }
    }
}
