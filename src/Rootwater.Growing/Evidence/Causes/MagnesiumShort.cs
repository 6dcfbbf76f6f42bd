namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Mobile: old leaves, between the veins.</summary>
internal sealed class MagnesiumShort() : Shortage("magnesium-short", "Mg")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        foreach (var clue in base.FromRecords(records))
        {
            yield return clue;
        }

        if (records.Supply.TryGetValue("Mg", out var magnesium) && records.Supply.TryGetValue("K", out var potassium) && potassium > 2 * magnesium)
        {
            yield return new RecordClue("much potassium beside little magnesium", 1.8);
        }
    }
}
