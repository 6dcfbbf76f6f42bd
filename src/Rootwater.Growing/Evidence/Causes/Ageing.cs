namespace Rootwater.Growing.Evidence.Causes;

/// <summary>The single oldest leaf, at the age at which its sisters went.</summary>
internal sealed class Ageing() : Cause("ageing")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.LeafAgeDays is { } age && records.SisterLosses.Count > 0)
        {
            double low = records.SisterLosses.Min(), high = records.SisterLosses.Max();
            var sisters = records.SisterLosses.Count == 1 ? FormattableString.Invariant($"a sister was lost at {low / 365.25:0.0}") : FormattableString.Invariant($"sisters were lost at {low / 365.25:0.0} to {high / 365.25:0.0}");
            var middle = records.SisterLosses.Average();
            var due = age >= 0.9 * low ? 3 : age >= 0.7 * middle ? 1 : age >= 0.4 * middle ? 0.3 : 0.1;
            // A leaf of unknown age is not young because it came lately.
            if (!records.LeafAgeIsLeast || due > 1)
            {
                yield return new RecordClue(FormattableString.Invariant($"{(records.LeafAgeIsLeast ? "at least " : "")}{age / 365.25:0.0} years old; {sisters}"), due);
            }
        }

        if (records is { LostLastYear: { } lost, NewLastYear: { } born })
        {
            yield return new RecordClue($"{lost} lost and {born} new over the year", lost > born + 1 ? 0.3 : 1.3);
        }

        if (records.DaysSinceNewRoots is <= 120 and var days)
        {
            yield return new RecordClue(FormattableString.Invariant($"new roots seen {days:0} days ago"), 1.3);
        }
    }
}
