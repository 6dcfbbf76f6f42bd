namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Buds yellow and drop: fumes, ripe fruit, drought, a move.</summary>
internal sealed class BudBlast() : Cause("bud-blast")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.DaysDry is >= 2 and var days)
        {
            yield return new RecordClue(FormattableString.Invariant($"stood dry for {days:0} days of the last month"), 1.5);
        }
    }
}
