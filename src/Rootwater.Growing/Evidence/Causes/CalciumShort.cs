namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Immobile: the tip of the newest leaf; transport as often as supply.</summary>
internal sealed class CalciumShort() : Shortage("calcium-short", "Ca")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        // Transport fails as often as supply, so a good supply speaks against it less than for other elements.
        foreach (var clue in base.FromRecords(records))
        {
            yield return clue with { Ratio = Math.Max(clue.Ratio, 0.7) };
        }

        if (records.AmmoniumShare is > 0.4 and var ammonium)
        {
            yield return new RecordClue(FormattableString.Invariant($"{100 * ammonium:0} % of the nitrogen was ammonium or urea, which hinders calcium"), 1.6);
        }
    }
}
