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
    /// <param name="request">Its <see cref="PlanRequest.MostCans"/> is where the curve ends, its time limit holds for the whole curve.</param>
    /// <param name="progress">Told which number of cans is being planned.</param>
    /// <param name="cancel">Ends the search by exception.</param>
    /// <exception cref="PlanRequestException">The request cannot be planned as it is.</exception>
    public static IReadOnlyList<TradeOffPoint> Of(PlanRequest request, IProgress<PlanProgress>? progress = null, CancellationToken cancel = default)
    {
        var problems = PlanRequestCheck.Problems(request);
        if (problems.Count > 0)
        {
            throw new PlanRequestException(problems);
        }

        var points = new List<TradeOffPoint>();
        foreach (var (best, why) in new PlanSession(request, progress, cancel).Curve())
        {
            var point = PointOf(points.Count + 1, best, why, request);

            // Fewer cans are always allowed: what serves better by weight and worse by count is no step.
            points.Add(points.Count > 0 && Worse(point, points[^1]) ? points[^1] with { MostCans = points.Count + 1 } : point);
        }

        return points;
    }

    private static bool Worse(TradeOffPoint point, TradeOffPoint before) => before.Cans > 0
        && (point.Cans == 0 || point.Outside > before.Outside + 1e-9 || (Math.Abs(point.Outside - before.Outside) <= 1e-9 && point.Unmet >= before.Unmet && point.Cans > before.Cans));

    private static TradeOffPoint PointOf(int mostCans, PlannedCans? best, string why, PlanRequest request)
    {
        var plants = Math.Max(1, request.Groups.Sum(group => group.Portions.Count));
        if (best is null)
        {
            return new TradeOffPoint
            {
                MostCans = mostCans,
                Cans = 0,
                Topped = 0,
                Unmet = request.Groups.Sum(group => CanGoal.GoalsOf(group).Count()),
                PlantsUnmet = plants,
                Outside = double.PositiveInfinity,
                Left = [why],
                Cost = 0,
                RelativeGap = 0,
            };
        }

        // A large group may be spread over several cans: it counts once, its plants where they are left.
        var served = best.Cans.SelectMany(can => can.Groups.Select(group => CardWriter.Serve(group, can.Can))).ToList();
        var left = served.SelectMany(group => group.Bands.Where(band => !band.Met).Select(band => (group.Group, band.What))).Distinct().ToList();
        return new TradeOffPoint
        {
            MostCans = mostCans,
            Cans = best.Cans.Count,
            Topped = best.Cans.Count(can => can.ToppedFrom is not null),
            Unmet = left.Count,
            PlantsUnmet = served.Where(group => group.Bands.Any(band => !band.Met)).Sum(group => group.Portions.Count),
            Outside = served.Sum(group => group.Portions.Count * group.Bands.Sum(Distance)) / plants,
            Left = [.. left.GroupBy(each => each.Group).Select(group => $"{group.Key}: {string.Join(", ", group.Select(each => each.What))}")],
            Cost = best.Cans.Sum(can => CardWriter.CostOf(can.Can)),
            RelativeGap = best.Gap,
        };
    }

    // Beyond the nearer end, in distances from that end to the ideal; a band without width counts as a fiftieth of its ideal.
    private static double Distance(BandResult band) => band.Met ? 0 : band.Value < band.Band.Low
        ? (band.Band.Low - band.Value) / Math.Max(band.Band.Ideal - band.Band.Low, 0.02 * Math.Abs(band.Band.Ideal) + 1e-9)
        : (band.Value - band.Band.High) / Math.Max(band.Band.High - band.Band.Ideal, 0.02 * Math.Abs(band.Band.Ideal) + 1e-9);
}
