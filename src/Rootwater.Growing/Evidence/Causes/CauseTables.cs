namespace Rootwater.Growing.Evidence.Causes;

/// <summary>A clue: what can be looked at, what it can show, and what finding out takes.</summary>
/// <param name="Id">Its key in data/growing/clues.csv.</param>
/// <param name="Question">As it is asked.</param>
/// <param name="EffortMinutes">What it takes to find out.</param>
/// <param name="Values">What it can show: id and words.</param>
public sealed record CauseClue(string Id, string Question, double EffortMinutes, IReadOnlyList<ClueValue> Values);

/// <summary>One value of a clue.</summary>
/// <param name="Id">Its key.</param>
/// <param name="Words">As it is shown.</param>
/// <param name="Background">How often it is seen over all causes.</param>
public sealed record ClueValue(string Id, string Words, double Background);

/// <summary>What is written of a cause.</summary>
public sealed record CauseFacts(string Id, string Name, double Prior, string Mobility, bool Contagious, string WhatToDo, string WhatNotToDo, string Source);

/// <summary>The tables of causes, clues and how they go together, from data/growing.</summary>
public static class CauseTables
{
    /// <summary>Clues in the order they are asked.</summary>
    public static IReadOnlyList<CauseClue> Clues { get; } = ReadClues();

    /// <summary>Facts by cause id.</summary>
    public static IReadOnlyDictionary<string, CauseFacts> Facts { get; } = EmbeddedTable.Read("causes.csv").Select(row => new CauseFacts(
        row["id"], row["name"], row.Number("prior"), row["mobility"], row["contagious"] == "yes", row["what_to_do"], row["what_not_to_do"], row["source"])).ToDictionary(facts => facts.Id);

    private static readonly Dictionary<(string Cause, string Clue), Dictionary<string, (double Share, string Basis, string Source)>> s_likelihoods = ReadLikelihoods();

    /// <summary>Share of a value under a cause; the background where nothing is written.</summary>
    internal static double Likelihood(string cause, string clue, string value)
    {
        var background = Clue(clue).Values;
        if (!s_likelihoods.TryGetValue((cause, clue), out var listed) && !s_likelihoods.TryGetValue(("*", clue), out listed))
        {
            return background.First(each => each.Id == value).Background;
        }

        if (listed.TryGetValue(value, out var share))
        {
            return share.Share;
        }

        var left = Math.Max(0, 1 - listed.Values.Sum(each => each.Share));
        var others = background.Where(each => !listed.ContainsKey(each.Id)).ToList();
        return left * others.First(each => each.Id == value).Background / others.Sum(each => each.Background);
    }

    /// <summary>Where it is written that this value goes with this cause: "published" or "practice", and the source.</summary>
    public static (string Basis, string Source)? SourceOf(string cause, string clue, string value) =>
        s_likelihoods.TryGetValue((cause, clue), out var listed) && listed.TryGetValue(value, out var found) ? (found.Basis, found.Source) : null;

    internal static CauseClue Clue(string id) => Clues.FirstOrDefault(clue => clue.Id == id) ?? throw new EvidenceInputException("clue", id, "one of " + string.Join(", ", Clues.Select(clue => clue.Id)));

    private static List<CauseClue> ReadClues() => [.. EmbeddedTable.Read("clues.csv").GroupBy(row => row["clue"]).Select(group => new CauseClue(
        group.Key, group.First()["question"], group.First().Number("effort_minutes"), [.. group.Select(row => new ClueValue(row["value"], row["words"], row.Number("background")))]))];

    private static Dictionary<(string, string), Dictionary<string, (double, string, string)>> ReadLikelihoods() => EmbeddedTable.Read("cause-likelihoods.csv").GroupBy(row => (row["cause"], row["clue"]))
        .ToDictionary(group => group.Key, group => group.ToDictionary(row => row["value"], row => (row.Number("share"), row["basis"], row["source"])));
}
