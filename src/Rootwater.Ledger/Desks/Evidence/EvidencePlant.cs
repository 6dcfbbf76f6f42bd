using Rootwater.Growing.Bench;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>What of a plant's life evidence is read from: its growths and the days on which something changed for it.</summary>
internal sealed record EvidencePlant
{
    public required Guid Id { get; init; }
    public required int Number { get; init; }
    public required string Name { get; init; }
    public required string KindWords { get; init; }
    public required Kind? Kind { get; init; }
    public required DaySpan Arrived { get; init; }
    public required DaySpan? Left { get; init; }
    public required string? LeftBecause { get; init; }
    public required IReadOnlyList<Growth> Growths { get; init; }

    /// <summary>The first pot is how it came; these are the others.</summary>
    public required IReadOnlyList<DateOnly> Repotted { get; init; }
    public required IReadOnlyList<(DateOnly From, Guid PlaceId)> Places { get; init; }
    public required IReadOnlyList<(DateOnly From, IReadOnlyList<PlantState> States)> States { get; init; }
    public required IReadOnlyList<DateOnly> WantChosen { get; init; }
    public required IReadOnlyList<DaySpan> NewRoots { get; init; }
    public required IReadOnlyList<DaySpan> PestsFound { get; init; }
    public required IReadOnlyList<DateOnly> KeptApart { get; init; }

    /// <summary>The bench stands south of the equator: rests and dark months lie half a year apart.</summary>
    public bool South { get; init; }

    public bool IsEvergreen => Kind?.Leaves is null or LeafHabit.Evergreen;

    /// <summary>Said once for all its leaves.</summary>
    public string Numbered => field ??= FactWords.Say($"no. {Number}");

    public string Called => FactWords.Say($"no. {Number} {Name}");

    public Guid? PlaceOn(DateOnly day)
    {
        Guid? place = null;
        foreach (var (from, at) in Places)
        {
            // Before the first that is told, the first has to do.
            if (place is null || from <= day)
            {
                place = at;
            }
        }

        return place;
    }

    public bool WasIn(DateOnly day, PlantState state)
    {
        var index = -1;
        for (var i = 0; i < States.Count && States[i].From <= day; i++)
        {
            index = i;
        }

        return index >= 0 && States[index].States.Contains(state);
    }

    public static EvidencePlant? Of(PlantStory story, bool south = false) => story.Arrived is not { } arrived ? null : new EvidencePlant
    {
        Id = story.PlantId,
        South = south,
        Number = arrived.Number,
        Name = story.CurrentName,
        KindWords = arrived.Kind,
        Kind = Kinds.Find(arrived.Kind) ?? Kinds.Find(story.CurrentName),
        Arrived = arrived.When.Span,
        Left = story.Lost?.When.Span,
        LeftBecause = story.Lost?.Cause,
        Growths = TightGrowth.Of(story.Growths),
        Repotted = [.. story.Pots.Skip(1).Select(told => told.When.Span.Middle)],
        Places = [.. story.Moves.Select(told => (told.When.EarliestDay, told.PlaceId))],
        States = [.. story.States.Select(told => (told.When.EarliestDay, told.States))],
        WantChosen = [.. story.Wants.Skip(1).Select(told => told.When.EarliestDay)],
        NewRoots = [.. story.NewRoots.Select(seen => seen.When)],
        PestsFound = [.. story.PestChecks.Where(check => check.Found.Count > 0).Select(check => check.When)],
        KeptApart = [.. story.Quarantines.Select(quarantine => quarantine.Begun)],
    };
}
