using Rootwater.Growing.Evidence.Causes;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>What can be said of a cause sheet's facts by themselves: clues, values and causes that there are.</summary>
internal static class CauseChecks
{
    public static void Check(CauseSeen said, FactProblems problems)
    {
        Sheet(said.SheetId, problems);
        if (said.Answers is not { Count: > 0 and <= 50 })
        {
            problems.Add("answers", null, "at least one clue that was looked at");
            return;
        }

        foreach (var answer in said.Answers)
        {
            Answer(answer, problems);
        }

        foreach (var believed in said.Ranked ?? [])
        {
            Cause("ranked", believed.Cause, problems);
            problems.Range("share", believed.Share, 0, 1, "");
        }
    }

    public static void Check(CauseSettled said, FactProblems problems)
    {
        Sheet(said.SheetId, problems);
        problems.Text("evidence", said.Evidence, 500);
        if (said.Cause is { } cause)
        {
            Cause("cause", cause, problems);
        }
    }

    /// <summary>A clue and value of the table; a value of null takes the answer off.</summary>
    public static void Answer(CauseAnswer answer, FactProblems problems)
    {
        if (CauseTables.Clues.FirstOrDefault(clue => clue.Id == answer.Clue) is not { } clue)
        {
            problems.Add("clue", answer.Clue, "one of " + string.Join(", ", CauseTables.Clues.Select(each => each.Id)));
        }
        else if (answer.Value is { } value && clue.Values.All(each => each.Id != value))
        {
            problems.Add(clue.Id, value, "one of " + string.Join(", ", clue.Values.Select(each => each.Id)));
        }
    }

    private static void Sheet(Guid id, FactProblems problems)
    {
        if (id == Guid.Empty)
        {
            problems.Add("sheet", null, "the id of a cause sheet");
        }
    }

    private static void Cause(string field, string? cause, FactProblems problems)
    {
        if (cause is null || !CauseTables.Facts.ContainsKey(cause))
        {
            problems.Add(field, cause, "one of " + string.Join(", ", CauseTables.Facts.Keys));
        }
    }
}
