using Rootwater.Growing.Bench;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <summary>The dates of one plant's life: when leaves fell and how old, when spikes, flowers and roots came, rests.</summary>
internal sealed record PlantDates
{
    public required Guid PlantId { get; init; }
    public required int Number { get; init; }
    public required string Name { get; init; }

    /// <summary>As the grower wrote it.</summary>
    public required string Kind { get; init; }
    public required Guid? PlaceId { get; init; }
    public required DateOnly ArrivedOn { get; init; }
    public required DateOnly? LostOn { get; init; }

    /// <summary>Leaves that ended by themselves: not broken, cut or eaten.</summary>
    public required IReadOnlyList<LeafFall> Falls { get; init; }
    public required IReadOnlyList<SpikeDates> Spikes { get; init; }
    public required IReadOnlyList<DaySpan> NewRoots { get; init; }

    /// <summary>When a sheath was first told of, season by season.</summary>
    public required IReadOnlyList<DateOnly> Sheaths { get; init; }
    public required IReadOnlyList<RestSpan> Rests { get; init; }
    public required IReadOnlyList<PestCheck> PestChecks { get; init; }

    /// <summary>Leaves lost to rot.</summary>
    public required IReadOnlyList<DateOnly> Rots { get; init; }

    public static PlantDates Of(PlantStory story)
    {
        var leaves = story.Growths.SelectMany(growth => growth.Leaves).Where(leaf => leaf.Lost is not null).ToList();
        return new PlantDates
        {
            PlantId = story.PlantId,
            Number = story.Arrived!.Number,
            Name = story.CurrentName,
            Kind = story.Arrived.Kind,
            PlaceId = story.Moves.Count > 0 ? story.Moves[^1].PlaceId : null,
            ArrivedOn = story.Arrived.When.EarliestDay,
            LostOn = story.Lost?.When.EarliestDay,
            Falls = [.. leaves.Where(leaf => leaf.Lost!.Cause is LeafLoss.Age or LeafLoss.Shed or LeafLoss.Unknown).Select(leaf => new LeafFall(
                leaf.Lost!.When, leaf.Lost.Cause, leaf.ThereOnArrival ? null : leaf.Lost.When.Middle.DayNumber - leaf.FirstSeen.Middle.DayNumber))],
            Spikes = [.. story.Growths.SelectMany(growth => growth.Spikes).OrderBy(spike => spike.FirstSeen.Earliest).Select(spike => new SpikeDates(spike.FirstSeen, spike.FirstFlower, spike.LastFlower, spike.Ended))],
            NewRoots = [.. story.NewRoots.Select(roots => roots.When)],
            Sheaths = [.. story.States.Where((told, i) => told.States.Contains(PlantState.Sheath) && (i == 0 || !story.States[i - 1].States.Contains(PlantState.Sheath))).Select(told => told.When.EarliestDay)],
            Rests = [.. RestSpan.Of(story)],
            PestChecks = story.PestChecks,
            Rots = [.. leaves.Where(leaf => leaf.Lost!.Cause == LeafLoss.Rot).Select(leaf => leaf.Lost!.When.Latest)],
        };
    }
}

/// <summary>A leaf that ended by itself.</summary>
/// <param name="When">When.</param>
/// <param name="Cause">Of age, shed, or not known.</param>
/// <param name="AgeDays">Null for a leaf that was there on arrival.</param>
internal sealed record LeafFall(DaySpan When, LeafLoss Cause, double? AgeDays);

/// <summary>A spike with its flowers.</summary>
internal sealed record SpikeDates(DaySpan FirstSeen, DaySpan? FirstFlower, DaySpan? LastFlower, DaySpan? Ended);

/// <summary>A rest as it was told.</summary>
/// <param name="State"><see cref="PlantState.DryRest"/> or <see cref="PlantState.CoolRest"/>.</param>
/// <param name="From">First day.</param>
/// <param name="To">Day on which it was told to be over; null while it lasts.</param>
internal sealed record RestSpan(PlantState State, DateOnly From, DateOnly? To)
{
    public static IEnumerable<RestSpan> Of(PlantStory story)
    {
        foreach (var rest in new[] { PlantState.DryRest, PlantState.CoolRest })
        {
            DateOnly? since = null;
            foreach (var told in story.States)
            {
                if (told.States.Contains(rest))
                {
                    since ??= told.When.EarliestDay;
                }
                else if (since is { } began)
                {
                    yield return new RestSpan(rest, began, told.When.EarliestDay < began ? began : told.When.EarliestDay);
                    since = null;
                }
            }

            if (since is { } lasting)
            {
                yield return new RestSpan(rest, lasting, null);
            }
        }
    }
}
