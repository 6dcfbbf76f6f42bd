using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>One can's doses with what the full chemistry says of them.</summary>
internal sealed record VerifiedCan
{
    public required IReadOnlyList<Column> Columns { get; init; }
    public required CanContents Contents { get; init; }
    public required SolvedCan Solved { get; init; }
    public required ErrorSpread Spread { get; init; }
    public required HardLimits Limits { get; init; }

    /// <summary>Where every hard limit stands; worked out when first asked for, because the errors of EC cost two solves a source.</summary>
    public IReadOnlyList<LimitEdge> Edges => _edges ??= [.. HardLimit.All(Limits).Select(limit => limit.Edge(Solved, Spread))];

    private IReadOnlyList<LimitEdge>? _edges;

    /// <summary>Bands and saturation alone.</summary>
    public required double BandObjective { get; init; }

    /// <summary>With the tie-breaks.</summary>
    public required double Objective { get; init; }

    /// <summary>No hard limit is broken at its upper error edge.</summary>
    public bool IsAllowed => Edges.All(edge => !edge.Broken);
}

/// <summary>What the search for one can found.</summary>
/// <param name="Best">The best verified can; null when the hard limits leave none.</param>
/// <param name="Nearest">The can that broke a limit least, when <paramref name="Best"/> is null.</param>
/// <param name="Bound">No doses can do better, within the last linearisation.</param>
/// <param name="Proven">Whether every search finished.</param>
/// <param name="Line">The linearisation at the best can.</param>
/// <param name="Rounds">How often it was linearised.</param>
internal sealed record CanSearch(VerifiedCan? Best, VerifiedCan? Nearest, double Bound, bool Proven, Linearisation? Line, int Rounds);

/// <summary>
/// Finds doses for one can of a volume: integer program on straight lines, full solve, new straight lines there, until the doses repeat;
/// damped when they cycle; the best *verified* can is kept and then polished by single steps under the full chemistry.
/// </summary>
internal sealed class CanOptimiser(CanChemistry chemistry, IReadOnlyList<Column> columns, CanGoal goal, double litres, double relativeVolumeError, int? mostProducts = null)
{
    private const int MostRounds = 6;

    // Measured on 120 fixed draws against the integer program in every round and no early end: one can worse (by 9 %), one better, all others the same.
    private const int ProofRounds = 2;
    private const double WorthAnotherRound = 0.003;

    // Below this the integer program does not get past its presolving; the rounded can is used as it is.
    private static readonly TimeSpan s_leastForProof = TimeSpan.FromMilliseconds(60);
    private readonly IReadOnlyList<Component> _movable = Movable(columns);
    private readonly Dictionary<string, VerifiedCan?> _verified = [];

    public CanGoal Goal => goal;

    /// <summary>The components that some column brings.</summary>
    public static IReadOnlyList<Component> Movable(IReadOnlyList<Column> columns) =>
        [.. Enum.GetValues<Component>().Where(component => columns.Any(column => column.MostSteps > 0 && column.MolPerStep[component] != 0))];

    /// <summary>Searches from a starting guess of the totals.</summary>
    /// <param name="start">Where the first lines are drawn.</param>
    /// <param name="limit">Of work.</param>
    /// <param name="relativeGap">At which an integer program may stop.</param>
    /// <param name="cancel">Ends it by exception.</param>
    public CanSearch Search(ComponentAmounts start, TimeSpan limit, double relativeGap, CancellationToken cancel)
    {
        var work = chemistry.Work;
        var end = work.Elapsed + limit;
        var edges = new EdgeFactors();
        var line = chemistry.Linearise(start, goal.WorkingPH, goal.PHLevels, _movable);
        VerifiedCan? best = null, nearest = null, last = null;
        var (bound, proven, rounds) = (double.NegativeInfinity, true, 0);
        var seen = new HashSet<string>();
        var damping = 1.0;
        var triedWater = false;
        Linearisation? bestLine = line;
        while (line is not null && rounds < MostRounds && (rounds == 0 || work.Elapsed < end))
        {
            cancel.ThrowIfCancellationRequested();
            rounds++;
            var left = end - work.Elapsed;
            var slice = TimeSpan.FromMilliseconds(Math.Max(20, left.TotalMilliseconds / (rounds == 1 ? 2 : 3)));
            var model = new CanModel(columns, goal, litres, chemistry.KgWaterPerLitre, line, edges, mostProducts: mostProducts);
            if (model.Relax(work) is not { } relaxed)
            {
                // Plain water shows whether the limits really leave nothing, and how near its own error edges are.
                if (triedWater || PlainWater() is not { } water)
                {
                    break;
                }

                triedWater = true;
                (best, nearest) = water.IsAllowed ? (water, nearest) : (best, nearest ?? water);
                foreach (var edge in water.Edges)
                {
                    edges[edge.Limit.Name] = edge.Value > 1e-12 ? edge.Factor * 1.0001 : EdgeFactors.Unknown;
                }

                continue;
            }

            var search = new StepSearch(columns, goal, litres, chemistry.KgWaterPerLitre, line, edges, work, mostProducts);
            var rounded = search.Round(relaxed.Steps, slice / 2);
            if (last is not null && search.From(last.Contents.Steps, slice / 2) is var again && search.Evaluate(again) < search.Evaluate(rounded))
            {
                rounded = again;
            }

            var doses = rounds <= ProofRounds && slice > s_leastForProof ? model.Solve(work, slice / 2, relativeGap, rounded) : null;
            doses = doses is null || search.Evaluate(rounded) < search.Evaluate(doses.Steps) - 1e-9 ? new Doses(rounded, search.Evaluate(rounded), doses?.Bound ?? relaxed.Bound, doses?.Proven ?? false) : doses;
            if (Verify(doses.Steps) is not { } can)
            {
                break;
            }

            proven &= doses.Proven;
            bound = doses.Bound;
            var (before, better) = (best, can.IsAllowed && (best is null || can.Objective < best.Objective - 1e-9));
            if (better)
            {
                (best, bestLine) = (can, line);
            }
            else if (!can.IsAllowed && best is null && (nearest is null || Excess(can) < Excess(nearest)))
            {
                nearest = can;
            }

            if (before is not null && before.Objective - best!.Objective < WorthAnotherRound * before.Objective)
            {
                break;
            }

            foreach (var edge in can.Edges)
            {
                edges[edge.Limit.Name] = Math.Max(edge.Factor, can.IsAllowed ? 1 : edge.Factor * 1.001);
            }

            var repeated = !seen.Add(Key(can.Contents.Steps));
            if (repeated && can.IsAllowed && (last is null || Key(last.Contents.Steps) == Key(can.Contents.Steps) || damping < 0.2))
            {
                break;
            }

            // Seen before but not last time: the doses go round in a circle, so the next line is drawn half way.
            damping = repeated ? damping / 2 : damping;
            var at = damping < 1 && last is not null ? last.Solved.Totals.Scaled(1 - damping).PlusScaled(can.Solved.Totals, damping) : can.Solved.Totals;
            line = chemistry.Linearise(at, WorkingPH(can.Solved.PH), goal.PHLevels, _movable);
            last = can;
        }

        if (best is not null)
        {
            best = Polish(best, TimeSpan.FromMilliseconds(Math.Max(10, (end - work.Elapsed).TotalMilliseconds / 2)), cancel);
        }

        return new CanSearch(best, nearest, bound, proven, bestLine, rounds);
    }

    // Nothing but one water, the one that breaks the limits least.
    private VerifiedCan? PlainWater() => Enumerable.Range(0, columns.Count)
        .Where(j => columns[j].IsLiquidVolume && columns[j].MostSteps >= Math.Round(litres / columns[j].Step))
        .Select(j => Verify(With(new double[columns.Count], (j, Math.Round(litres / columns[j].Step)))))
        .OfType<VerifiedCan>().MinBy(Excess);

    // Where the can is, not where it should be: with no acid in the cupboard the two lie far apart, and so do their saturations.
    public static double WorkingPH(double solved) => Math.Clamp(solved, 4, 9.5);

    private static double Excess(VerifiedCan can) => can.Edges.Where(edge => edge.Broken).Sum(edge => edge.Edge / Math.Max(edge.Limit.Limit, 1e-9) - 1);

    /// <summary>Full chemistry, error edges and objective of given doses; null when the chemistry does not converge.</summary>
    public VerifiedCan? Verify(IReadOnlyList<double> steps)
    {
        var key = Key(steps);
        if (_verified.TryGetValue(key, out var known))
        {
            return known;
        }

        var contents = new CanContents(litres, chemistry.KgWaterPerLitre, [.. steps]);
        VerifiedCan? can = null;
        if (chemistry.Solve(contents.Totals(columns)) is { } solved)
        {
            var spread = ErrorSpread.Of(chemistry, solved, contents, columns, relativeVolumeError);
            var bands = BandObjective(solved);
            can = new VerifiedCan
            {
                Columns = columns,
                Contents = contents,
                Solved = solved,
                Spread = spread,
                Limits = goal.Limits,
                BandObjective = bands,
                Objective = bands + TieBreaks(steps),
            };
        }

        _verified[key] = can;
        return can;
    }

    public double BandObjective(SolvedCan solved) =>
        goal.Goals.Sum(each => each.Penalty(CanGoal.Value(each.Measure, solved)))
        + CanChemistry.Watched.Sum(mineral => PlanWeights.Saturation * goal.Share * Math.Max(0, solved.Solution.SaturationIndex(mineral) ?? 0));

    private double TieBreaks(IReadOnlyList<double> steps)
    {
        var sum = AdjusterCost.Together(columns, steps);
        for (var j = 0; j < columns.Count; j++)
        {
            sum += CanModel.CostPerStep(columns[j], litres) * steps[j] + (steps[j] > 0 && columns[j].Kind == ColumnKind.Product ? CanModel.CostWhenUsed(columns[j]) : 0);
        }

        return sum;
    }

    // Single steps up and down, and a step of one water for another, as long as the full chemistry says it gets better. What the straight
    // lines got slightly wrong (mostly the last drop of acid) is put right here.
    private VerifiedCan Polish(VerifiedCan best, TimeSpan limit, CancellationToken cancel)
    {
        var end = chemistry.Work.Elapsed + limit;
        for (var improved = true; improved && chemistry.Work.Elapsed < end;)
        {
            improved = false;
            foreach (var steps in Neighbours(best.Contents.Steps))
            {
                cancel.ThrowIfCancellationRequested();
                if (chemistry.Work.Elapsed >= end)
                {
                    break;
                }

                if (Verify(steps) is { } can && can.Objective < best.Objective - 1e-9 && can.IsAllowed)
                {
                    (best, improved) = (can, true);
                    break;
                }
            }
        }

        return best;
    }

    private IEnumerable<IReadOnlyList<double>> Neighbours(IReadOnlyList<double> steps)
    {
        for (var j = 0; j < columns.Count; j++)
        {
            foreach (var change in new[] { 1, -1 })
            {
                var least = Math.Max(1, columns[j].LeastStepsWhenUsed);
                var moved = steps[j] + change;
                moved = moved > 0 && moved < least ? (change > 0 ? least : 0) : moved;
                if (moved < 0 || moved > columns[j].MostSteps || columns[j].MustBeAllUsed || (mostProducts is { } most && steps[j] == 0 && ProductsIn(steps) >= most && columns[j].Kind == ColumnKind.Product))
                {
                    continue;
                }

                if (columns[j].Kind == ColumnKind.Product)
                {
                    yield return With(steps, (j, moved));
                    foreach (var exchanged in Exchanges(steps, j, moved))
                    {
                        yield return exchanged;
                    }

                    continue;
                }

                for (var k = 0; k < columns.Count; k++)
                {
                    var other = steps[k] - change;
                    if (k != j && change > 0 && columns[k] is { IsLiquidVolume: true, MustBeAllUsed: false } && other >= 0)
                    {
                        yield return With(steps, (j, moved), (k, other));
                    }
                }
            }
        }
    }

    // A step more of one product for a step less of another that is in the can.
    private IEnumerable<IReadOnlyList<double>> Exchanges(IReadOnlyList<double> steps, int j, double moved)
    {
        for (var k = 0; moved > steps[j] && k < columns.Count; k++)
        {
            var other = steps[k] - 1;
            if (k != j && columns[k].Kind == ColumnKind.Product && other >= 0)
            {
                yield return With(steps, (j, moved), (k, other < columns[k].LeastStepsWhenUsed ? 0 : other));
            }
        }
    }

    private int ProductsIn(IReadOnlyList<double> steps) => Enumerable.Range(0, columns.Count).Count(j => columns[j].Kind == ColumnKind.Product && steps[j] > 0);

    private static double[] With(IReadOnlyList<double> steps, params ReadOnlySpan<(int Column, double Steps)> changes)
    {
        double[] copy = [.. steps];
        foreach (var (column, value) in changes)
        {
            copy[column] = value;
        }

        return copy;
    }

    private static string Key(IReadOnlyList<double> steps) => string.Join(',', steps);
}
