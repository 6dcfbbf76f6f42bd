namespace Rootwater.Growing.Mixing;

/// <summary>What so many cans at most achieve.</summary>
public sealed record TradeOffPoint
{
    /// <summary>The most cans that were allowed.</summary>
    public required int MostCans { get; init; }

    /// <summary>How many the plan uses; 0 where nothing can be mixed.</summary>
    public required int Cans { get; init; }

    /// <summary>Of those, how many are made from some of another one.</summary>
    public required int Topped { get; init; }

    /// <summary>Bands of groups that are left.</summary>
    public required int Unmet { get; init; }

    /// <summary>Plants of the groups that have any band left.</summary>
    public required int PlantsUnmet { get; init; }

    /// <summary>How far outside their bands, in half-widths, summed over bands and averaged over plants.</summary>
    public required double Outside { get; init; }

    /// <summary>What is left, in words: "strong growers: nitrogen"; the reason where nothing can be mixed.</summary>
    public required IReadOnlyList<string> Left { get; init; }
    public required decimal Cost { get; init; }
    public required double RelativeGap { get; init; }
    public bool AllMet => Cans > 0 && Unmet == 0;
}

/// <summary>How many cans are worth their weighing: the best plan for every number of cans against the wants it leaves.</summary>
public static class TradeOff
{
    /// <summary>From one can to the most the request allows. Once all wants are met, more cans are not looked at.</summary>
    /// <param name="request">Its <see cref="PlanRequest.MostCans"/> is where the curve ends, its time limit holds for each number of cans.</param>
    /// <param name="progress">Told which number of cans is being planned.</param>
    /// <param name="cancel">Ends the search by exception.</param>
    /// <exception cref="PlanRequestException">The request cannot be planned as it is.</exception>
    public static IReadOnlyList<TradeOffPoint> Of(PlanRequest request, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var points = new List<TradeOffPoint>();
        for (var cans = 1; cans <= request.MostCans; cans++)
        {
            cancel.ThrowIfCancellationRequested();
            var (done, most) = (cans - 1, request.MostCans);
            var inner = progress is null ? null : new Scaled(progress, done, most);
            var point = PointOf(cans, CanPlanner.Plan(request with { MostCans = cans }, inner, cancel), request);

            // Fewer cans are always allowed: a search that found less in its time is no step back.
            points.Add(points.Count > 0 && Worse(point, points[^1]) ? points[^1] with { MostCans = cans } : point);
            if (points[^1].AllMet)
            {
                break;
            }
        }

        return points;
    }

    private static bool Worse(TradeOffPoint point, TradeOffPoint before) => before.Cans > 0
        && (point.Cans == 0 || point.Outside > before.Outside + 1e-9 || (Math.Abs(point.Outside - before.Outside) <= 1e-9 && point.Unmet >= before.Unmet && point.Cans > before.Cans));

    /// <summary>What a plan leaves.</summary>
    internal static TradeOffPoint PointOf(int mostCans, PlanOutcome outcome, PlanRequest request)
    {
        var cans = outcome.Plan?.Cans ?? [];
        var plants = Math.Max(1, request.Groups.Sum(group => group.Portions.Count));
        var served = cans.SelectMany(can => can.Serves).ToList();
        var ids = cans.Select(can => can.Id).ToHashSet();
        // A large group may be spread over several cans: it counts once, its plants where they are left.
        var left = served.SelectMany(group => group.Bands.Where(band => !band.Met).Select(band => (group.Group, band.What))).Distinct().ToList();
        return new TradeOffPoint
        {
            MostCans = mostCans,
            Cans = cans.Count,
            Topped = cans.Count(can => can.Steps.Any(step => step.FromCanId is { } from && ids.Contains(from))),
            Unmet = cans.Count == 0 ? request.Groups.Sum(group => CanGoal.GoalsOf(group).Count()) : left.Count,
            PlantsUnmet = cans.Count == 0 ? plants : served.Where(group => group.Bands.Any(band => !band.Met)).Sum(group => group.Portions.Count),
            Outside = cans.Count == 0 ? double.PositiveInfinity : served.Sum(group => group.Portions.Count * group.Bands.Sum(Distance)) / plants,
            Left = cans.Count == 0 ? [.. outcome.Unmet.Select(unmet => unmet.WayOut).Distinct()] : [.. left.GroupBy(each => each.Group).Select(group => $"{group.Key}: {string.Join(", ", group.Select(each => each.What))}")],
            Cost = outcome.Plan?.Cost ?? 0,
            RelativeGap = outcome.Plan?.RelativeGap ?? 0,
        };
    }

    // Beyond the nearer end, in distances from that end to the ideal; a band without width counts as a fiftieth of its ideal.
    private static double Distance(BandResult band) => band.Met ? 0 : band.Value < band.Band.Low
        ? (band.Band.Low - band.Value) / Math.Max(band.Band.Ideal - band.Band.Low, 0.02 * Math.Abs(band.Band.Ideal) + 1e-9)
        : (band.Value - band.Band.High) / Math.Max(band.Band.High - band.Band.Ideal, 0.02 * Math.Abs(band.Band.Ideal) + 1e-9);

    private sealed class Scaled(IProgress<PlanProgress> outer, int done, int most) : IProgress<PlanProgress>
    {
        public void Report(PlanProgress value) => outer.Report(value with { Doing = $"{done + 1} can{(done == 0 ? "" : "s")}: {value.Doing}", Share = (done + (value.Share ?? 0)) / most });
    }
}
