namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Limp, pleated leaves in a wet or dry pot; few firm roots.</summary>
internal sealed class RootLoss() : Cause("root-loss")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.DaysSinceRepot is < 90 and var days)
        {
            yield return new RecordClue(FormattableString.Invariant($"repotted {days:0} days ago"), 1.6);
        }

        if (records.DaysSinceNewRoots is <= 120 and var seen)
        {
            yield return new RecordClue(FormattableString.Invariant($"new roots seen {seen:0} days ago"), seen < 45 ? 0.35 : 0.6);
        }
    }
}
