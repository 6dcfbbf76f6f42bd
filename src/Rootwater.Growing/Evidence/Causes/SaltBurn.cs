namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Dry tips on many ages, dead root tips, reservoir above the feed.</summary>
internal sealed class SaltBurn() : Cause("salt")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.ReservoirOverFeed is { } ratio)
        {
            // How far above is a clue of its own; here only that it was measured and is below the feed.
            yield return new RecordClue(FormattableString.Invariant($"reservoir at {ratio:0.0} times the feed"), ratio < 0.9 ? 0.5 : 1);
        }
    }
}
