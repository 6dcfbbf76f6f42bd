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
    }
}
