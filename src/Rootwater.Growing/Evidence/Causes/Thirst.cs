namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Limp with firm roots after standing dry.</summary>
internal sealed class Thirst() : Cause("thirst")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.DaysDry is { } days)
        {
            yield return new RecordClue(FormattableString.Invariant($"stood dry for {days:0} days of the last month"), days >= 7 ? 5 : days >= 3 ? 2.5 : days > 0 ? 0.8 : 0.2);
        }
    }
}
