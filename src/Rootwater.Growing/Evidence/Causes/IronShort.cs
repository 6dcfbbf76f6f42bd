namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Immobile: new leaves pale with green veins; as often a matter of pH.</summary>
internal sealed class IronShort() : Shortage("iron-short", "Fe")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        // Given is not taken up: at a high pH at the root the supply says little.
        foreach (var clue in base.FromRecords(records))
        {
            yield return records.RootPH > 6.5 ? clue with { Ratio = Math.Max(clue.Ratio, 0.9) } : clue;
        }

        if (records.RootPH is < 6.0)
        {
            yield return new RecordClue(FormattableString.Invariant($"pH at the root {records.RootPH:0.0}, where it stays dissolved"), 0.5);
        }
    }
}
