namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Sudden, bleached, on the side towards the light.</summary>
internal sealed class Sunburn() : Cause("sunburn")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.DaysAboveShadeLimit is { } days)
        {
            yield return new RecordClue($"{days} days above its shade limit in two weeks", days > 2 ? 4 : days > 0 ? 2 : 0.3);
        }
    }
}
