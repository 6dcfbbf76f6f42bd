namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Mobile: old leaves from tip and margin, purple spots, around and after spiking.</summary>
internal sealed class PotassiumShort() : Shortage("potassium-short", "K")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        foreach (var clue in base.FromRecords(records))
        {
            yield return clue;
        }

        // Calcium and potassium compete at uptake (Hort. Res. Japan 5(4):403, abstract): much calcium beside little potassium.
        if (records.Supply.TryGetValue("Ca", out var calcium) && records.Supply.TryGetValue("K", out var potassium) && calcium > 2 * potassium)
        {
            yield return new RecordClue("much calcium beside little potassium", 1.4);
        }
    }
}
