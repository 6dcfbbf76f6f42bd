namespace Rootwater.Growing.Evidence.Causes;

/// <summary>Kinds that shed leaves or canes for their rest.</summary>
internal sealed class RestShedding() : Cause("rest-shedding")
{
    public override IEnumerable<RecordClue> FromRecords(CauseRecords records)
    {
        if (records.ShedsForRest is { } sheds)
        {
            yield return sheds ? new RecordClue("its kind sheds leaves for its rest", records.Phase == "resting" ? 8 : 2) : new RecordClue("its kind keeps its leaves at rest", 0.02);
        }
    }
}
