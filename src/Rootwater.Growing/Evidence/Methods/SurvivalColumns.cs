using Rootwater.Growing.Evidence.Survival;

namespace Rootwater.Growing.Evidence.Methods;

/// <summary>What the survival methods read in the same way: times or dates, losses, late entry.</summary>
internal sealed class SurvivalColumns
{
    public const string NonInformative = SurvivalWords.NonInformative;

    public static readonly MethodOption[] Options =
    [
        new("time", "column: age or time at loss or when last seen", "time, else stop"),
        new("event", "column: 1 lost, 0 still there (or 2 and 1; or column:value for the value that means lost)", "event, else status"),
        new("entry", "column: age or time at which watching began (late entry), or the start of an interval", "start if there is one and the time is stop, else watched from the start"),
        new("from-date", "column: date the life began (2025-03-14, 2025-03 or 2025); in place of --time", "none"),
        new("to-date", "column: date of loss or when last seen", "none"),
        new("watched-date", "column: date watching began", "none"),
    ];

    public required double[] Exit { get; init; }

    public required double[]? Entry { get; init; }

    public required bool[] Ended { get; init; }

    /// <summary>Reads the times, leaving out rows without them or without one of the other columns.</summary>
    public static SurvivalColumns Read(MethodRun run, params string?[] others)
    {
        var ended = run.EventColumn("event", run.Table.Has("event") ? "event" : "status");
        if (run.Column("from-date") is { } from)
        {
            var to = run.Need("to-date");
            var watched = run.Column("watched-date");
            run.KeepComplete([from, to, watched, ended.Column, .. others]);
            return FromDates(run, from, to, watched, ended);
        }

        var time = run.Column("time", "time") ?? run.Need("time", "stop");
        var entry = run.Column("entry", time == "stop" ? "start" : null);
        run.KeepComplete([time, entry, ended.Column, .. others]);
        return new SurvivalColumns { Exit = run.Table.Numbers(time), Entry = entry is null ? null : run.Table.Numbers(entry), Ended = run.Events(ended.Column, ended.Value) };
    }

    public Lifetime[] Lives(MethodRun run, string? group, string? stratum)
    {
        var groups = group is null ? null : run.Table.Texts(group);
        var strata = stratum is null ? null : run.Table.Texts(stratum);
        return [.. Exit.Select((exit, i) => new Lifetime(Entry?[i] ?? double.NegativeInfinity, exit, Ended[i], groups?[i] ?? run.Label, strata?[i] ?? ""))];
    }

    private static SurvivalColumns FromDates(MethodRun run, string from, string to, string? watched, (string Column, string? Value) ended)
    {
        var events = run.Events(ended.Column, ended.Value);
        var began = run.Table.Texts(from);
        var until = run.Table.Texts(to);
        var seen = watched is null ? null : run.Table.Texts(watched);
        var result = DatedLives.ToLives([.. began.Select((text, i) => new DatedLife(PartialDate.Parse(text, from), seen is null ? null : PartialDate.Parse(seen[i], watched!), PartialDate.Parse(until[i], to), events[i]))]);
        foreach (var sentence in result.Says)
        {
            run.Say(sentence);
        }

        if (result.Lives.Count == 0)
        {
            throw new EvidenceInputException("dates", "none that fixes a length of life", "dates at least to the month for lives that began and ended in one year");
        }

        run.KeepRows(result.Used);
        return new SurvivalColumns { Exit = [.. result.Lives.Select(life => life.Exit)], Entry = seen is null ? null : [.. result.Lives.Select(life => life.Entry)], Ended = [.. result.Lives.Select(life => life.Ended)] };
    }
}
