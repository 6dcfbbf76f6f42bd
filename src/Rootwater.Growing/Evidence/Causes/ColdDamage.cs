namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Sudden, pitted, on the exposed side, after a cold night or cold water.</summary>
internal sealed class ColdDamage() : Cause("cold")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.LowestCelsius is { } lowest)
        {
            yield return new RecordClue(FormattableString.Invariant($"lowest of the last month {lowest:0.0} °C"), lowest < 7 ? 6 : lowest < 11 ? 2.5 : lowest < 14 ? 0.7 : 0.15);
        }
    }
}
