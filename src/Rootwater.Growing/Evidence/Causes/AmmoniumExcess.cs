namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Root damage and poor flowering where most nitrogen is ammonium or urea.</summary>
internal sealed class AmmoniumExcess() : Cause("ammonium-excess")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.AmmoniumShare is { } share)
        {
            yield return new RecordClue(FormattableString.Invariant($"{100 * share:0} % of the nitrogen given was ammonium or urea"), share switch { > 0.75 => 6, > 0.5 => 3, > 0.25 => 1, _ => 0.2 });
        }
    }
}
