using System.Diagnostics;

namespace Rootwater.Growing.Mixing;

/// <summary>All cans of one way of sharing.</summary>
internal sealed record PlannedCans(IReadOnlyList<PlannedCan> Cans, double Bound)
{
    public double Objective => Cans.Sum(can => can.Share * can.Can.Objective);

    public bool AllMet => Cans.All(can => can.AllMet);

    /// <summary>Of the bands' objective from the bound, relative.</summary>
    public double Gap => Cans.Sum(can => can.Share * can.Can.BandObjective) is > 1e-9 and var objective ? Math.Clamp((objective - Bound) / objective, 0, 1) : 0;
}

/// <summary>One run of the planner.</summary>
internal sealed class PlanSession
{
    // Spare for spills and what stays in the spout (common practice, no source).
    private const double Spare = 0.02;
    private const double RelativeGap = 0.01;
    private const double LinesErr = 1.2;

    // A machine half as fast, or shared with as much again, still gives the same plan; beyond that somebody waits.
    private const double Patience = 2;
    private readonly PlanRequest _request;
    private readonly IProgress<PlanProgress>? _progress;
    private readonly CancellationToken _cancel;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly WorkClock _work;
    private readonly CanChemistry _chemistry;
    private readonly IReadOnlyList<Vessel> _vessels;

    /// <param name="request">What is asked.</param>
    /// <param name="progress">Told what is being done.</param>
    /// <param name="cancel">Ends it by exception.</param>
    /// <param name="guard">Wall time after which it ends in any case; twice the limit of work where none is given.</param>
    public PlanSession(PlanRequest request, IProgress<PlanProgress>? progress, CancellationToken cancel, TimeSpan? guard = null)
    {
        (_request, _progress, _cancel) = (request, progress, cancel);
        _work = new WorkClock(guard ?? Patience * request.TimeLimit);
        _chemistry = new CanChemistry(request.CanTemperature, _work);
        (_limit, _end) = (request.TimeLimit, request.TimeLimit);
        _vessels = [.. request.Vessels.OrderBy(vessel => vessel.Litres)];
    }

    private VerifiedCan? _nearest;

    // Of work: what may be used for now, and where that ends.
    private TimeSpan _limit;
    private TimeSpan _end;

    private TimeSpan Left => _end - _work.Elapsed;

    /// <summary>The fewest cans that meet every band, or the best that the most cans do.</summary>
    public PlanOutcome Run()
    {
        if (Begin() is not { } bench)
        {
            return Nothing("the chemistry of these waters could not be solved");
        }

        PlannedCans? best = null;
        for (var cans = 1; cans <= _request.MostCans; cans++)
        {
            if (best is not null && Left < _limit / 4)
            {
                break;
            }

            Say($"sharing the plants over {cans} can{(cans == 1 ? "" : "s")}", best);
            if (bench.Assignment.Share(cans, Left / 3) is not { } sharing)
            {
                continue;
            }

            // Where even fractions of steps leave a band, look at more cans first.
            var few = sharing.Blocks.Count < Math.Min(cans, bench.Servings.Count) && best is not null;
            if (!few && sharing.Blocks.Sum(bench.Assignment.Outside) > 0.01 && cans < Math.Min(_request.MostCans, bench.Servings.Count) && Improves(bench.Assignment, sharing, cans + 1))
            {
                continue;
            }

            best = With(cans, sharing, bench, best);
            if (best is { AllMet: true })
            {
                break;
            }
        }

        return best is null ? Nothing(WhyNothing()) : Finish(best, bench.Assignment);
    }

    /// <summary>
    /// The best plan of at most so many cans, from one to the most; the last that meets every band ends it. Lines, relaxed cans and bounds are the same for all, so
    /// that the whole takes little more than the plan of the most cans alone; each number has its part of the limit.
    /// </summary>
    /// <returns>One for each number of cans; null where nothing can be mixed, with the reason.</returns>
    public IReadOnlyList<(PlannedCans? Best, string Why)> Curve()
    {
        var points = new List<(PlannedCans? Best, string Why)>();
        if (Begin() is not { } bench)
        {
            return [.. Enumerable.Range(1, _request.MostCans).Select(_ => ((PlannedCans?)null, "the chemistry of these waters could not be solved"))];
        }

        PlannedCans? best = null;
        for (var cans = 1; cans <= _request.MostCans && best is not { AllMet: true }; cans++)
        {
            _limit = (_request.TimeLimit - _work.Elapsed) / (_request.MostCans - cans + 1);
            _end = _work.Elapsed + _limit;
            Say($"{cans} can{(cans == 1 ? "" : "s")}", best);
            _nearest = null;
            if (bench.Assignment.Share(cans, Left / 3) is { } sharing)
            {
                best = With(cans, sharing, bench, best);
            }

            points.Add((best, best is null ? WhyNothing(cans) : ""));
        }

        return points;
    }

    private sealed record Shared(IReadOnlyList<Serving> Servings, IReadOnlyList<Column> Columns, Assignment Assignment);

    private Shared? Begin()
    {
        Say("looking the request over", null);
        var servings = Servings();
        var columns = Columns.Of(_request);
        return Assignment.Begin(servings, columns, _chemistry, _vessels[^1].Litres, _cancel) is { } assignment ? new Shared(servings, columns, assignment) : null;
    }

    // The better of the best so far and of so many cans.
    private PlannedCans? With(int cans, Sharing unbounded, Shared bench, PlannedCans? best)
    {
        // Fewer cans than the last try could fill are no news.
        var sharing = bench.Assignment.Bounded(unbounded, cans);
        if (best is null || sharing.Blocks.Count >= Math.Min(cans, bench.Servings.Count))
        {
            best = Better(Build(sharing, bench), best);
        }

        return best is { AllMet: true } ? best : Others(cans, sharing, bench, best);
    }

    private static PlannedCans? Better(PlannedCans? built, PlannedCans? best) =>
        built is not null && (best is null || built.Objective < best.Objective - PlanWeights.OutsideFactor * 0.001) ? built : best;

    // Where a band is left, the next best sharings are dosed too, as long as their fractions may promise more than what was found: lines drawn where one
    // can for everybody would be were seen to be 14 % off for a can of few.
    private PlannedCans? Others(int cans, Sharing first, Shared bench, PlannedCans? best)
    {
        foreach (var sharing in bench.Assignment.Others(cans, first))
        {
            if (best is { AllMet: true } || Left < _limit / 2 || sharing.Relaxed >= LinesErr * (best?.Objective ?? double.PositiveInfinity))
            {
                break;
            }

            Say($"another sharing over {cans} can{(cans == 1 ? "" : "s")}", best);
            best = Better(Build(sharing, bench), best);
        }

        return best;
    }

    private bool Improves(Assignment assignment, Sharing sharing, int cans) =>
        assignment.Share(cans, Left / 4) is { } more && (double.IsInfinity(sharing.Relaxed) || more.Relaxed < sharing.Relaxed - 1);

    private List<Serving> Servings()
    {
        var plants = _request.Groups.Sum(group => group.Portions.Count);
        var largest = _vessels[^1].Litres;
        var servings = new List<Serving>();
        foreach (var group in _request.Groups)
        {
            var part = new List<Portion>();
            foreach (var portion in group.Portions.OrderBy(portion => portion.WalkOrder))
            {
                if (part.Count > 0 && (part.Sum(each => each.Millilitres) + portion.Millilitres) / 1000 > largest)
                {
                    servings.Add(new Serving(group with { Portions = part }, part.Count / (double)plants));
                    part = [];
                }

                part.Add(portion);
            }

            servings.Add(new Serving(group with { Portions = part }, part.Count / (double)plants));
        }

        return servings;
    }

    private PlannedCans? Build(Sharing sharing, Shared bench)
    {
        var (servings, columns, assignment) = (bench.Servings, bench.Columns, bench.Assignment);
        var blocks = sharing.Blocks.OrderByDescending(block => block.Sum(i => servings[i].Litres)).ToList();
        var fills = Fill([.. blocks.Select(block => block.Sum(i => servings[i].Litres))]);
        var shares = SupplyShares(blocks, assignment, columns, fills);
        var used = new Dictionary<Guid, double>();
        var builder = new CanBuilder(_chemistry, _request.Tools, RelativeGap, _cancel);
        var cans = new List<PlannedCan>();
        foreach (var (block, index) in blocks.Select((block, index) => (block, index)))
        {
            Say($"dosing can {(char)('A' + index)}", null);
            var (vessel, litres) = fills[index];
            var here = columns.Select((column, j) => column with { MostSteps = Math.Max(0, Math.Min(column.MostSteps - used.GetValueOrDefault(column.Id), shares[index][j])) }).ToList();
            List<(WantGroup, double)> groups = [.. block.Select(i => (servings[i].Group, servings[i].Share))];
            var relaxed = assignment.Relax(block);
            var start = double.IsInfinity(relaxed.Value) ? Assignment.Guess(CanGoal.For(groups), _chemistry.KgWaterPerLitre) : relaxed.Totals;
            var bottle = (char)('A' + cans.Sum(can => can.Bottles.Count));
            var (built, nearest) = builder.Build(vessel, litres, groups, block, here, start, bottle, Left / (blocks.Count - index + 0.5));
            if (built is null)
            {
                _nearest = nearest ?? _nearest;
                return null;
            }

            Use(built, used, 1);
            cans.Add(built);
        }

        for (var later = cans.Count - 1; later > 0; later--)
        {
            Top(cans, later, columns, servings, used);
        }

        // One can: the integer program's own bound is the stronger. Several: the relaxation of every sharing.
        return new PlannedCans(cans, sharing.Bound);
    }

    // A later can made from some of an earlier one: worth it where it saves weighings or bottles and leaves no band worse.
    private void Top(List<PlannedCan> cans, int later, IReadOnlyList<Column> columns, IReadOnlyList<Serving> servings, Dictionary<Guid, double> used)
    {
        var plain = cans[later];
        for (var earlier = 0; earlier < later && Left > _limit / 5; earlier++)
        {
            var source = cans[earlier];
            var step = _request.Tools.WaterStepLitres;

            // The can that gives needs the room: where the other stands in the larger vessel, they change places.
            var swap = plain.Vessel.Litres > source.Vessel.Litres && plain.Can.Contents.Litres <= source.Vessel.Litres + 1e-9;
            var (wide, narrow) = swap ? (plain.Vessel, source.Vessel) : (source.Vessel, plain.Vessel);
            var room = Math.Floor((wide.Litres - source.Can.Contents.Litres) / step + 1e-6);
            if (room < 1 || source.ToppedFrom is not null || cans.Any(can => can.ToppedFrom == source.Id))
            {
                continue;
            }

            var builder = new CanBuilder(_chemistry, _request.Tools, RelativeGap, _cancel);
            var limit = TimeSpan.FromMilliseconds(Math.Min(150, Left.TotalMilliseconds / 6));
            if (Attempt(source, room) is not { } topped || topped.Can.Objective > plain.Can.Objective - PlanWeights.ProductUsed || (plain.AllMet && !topped.AllMet))
            {
                continue;
            }

            // The earlier can is mixed for both now; its own doses change a little, and the later can with them.
            var drawn = topped.Can.Contents.Steps[^1];
            var litres = Math.Round(source.Can.Contents.Litres + drawn * step, 6);
            var wider = builder.Plain(wide, litres, Groups(source), source.Block, Remaining(source), source.Can.Solved.Totals, limit);
            if (wider is null || (source.AllMet && !wider.AllMet))
            {
                continue;
            }

            wider = wider with { Id = source.Id, FullerBecause = "some of it goes into a later can" };
            if (Attempt(wider, drawn) is { } second && second.Can.Contents.Steps[^1] == drawn && (second.AllMet || !plain.AllMet) && second.Can.Objective < plain.Can.Objective)
            {
                Use(source, used, -1);
                Use(plain, used, -1);
                (cans[earlier], cans[later]) = (wider, second with { ToppedFrom = source.Id });
                Use(wider, used, 1);
                Use(second, used, 1);
                return;
            }

            PlannedCan? Attempt(PlannedCan from, double most)
            {
                var leftover = new Leftover(from.Id, $"can {(char)('A' + earlier)}", most * step, from.Can.Solved.Totals, 0) { BiuretMgPerLitre = BiuretCap.MgPerLitre(from.Can.Columns, from.Can.Contents) };
                return builder.Plain(narrow, plain.Can.Contents.Litres, Groups(plain), plain.Block, [.. Remaining(plain), Columns.OfLeftover(leftover, _request.Tools)], plain.Can.Solved.Totals, limit);
            }
        }

        List<(WantGroup, double)> Groups(PlannedCan can) => [.. can.Block.Select(i => (servings[i].Group, servings[i].Share))];

        List<Column> Remaining(PlannedCan can) => [.. columns.Select(column =>
            column with { MostSteps = Math.Max(0, column.MostSteps - used.GetValueOrDefault(column.Id) + can.StepsOf(column.Id)) })];
    }

    private static void Use(PlannedCan can, Dictionary<Guid, double> used, int sign)
    {
        foreach (var column in can.Can.Columns)
        {
            used[column.Id] = used.GetValueOrDefault(column.Id) + sign * can.StepsOf(column.Id);
        }
    }

    // The smallest vessel that holds it; different vessels where there are enough, so that cans can stand side by side.
    private List<(Vessel Vessel, double Litres)> Fill(IReadOnlyList<double> demands)
    {
        var free = _vessels.ToList();
        var fills = new List<(Vessel, double)>();
        foreach (var demand in demands)
        {
            var vessel = free.FirstOrDefault(each => each.Litres >= demand - 1e-9) ?? _vessels.First(each => each.Litres >= demand - 1e-9);
            free.Remove(vessel);
            var step = _request.Tools.WaterStepLitres;
            var litres = Math.Max(step, Math.Ceiling(demand * (1 + Spare) / step - 1e-6) * step);
            var most = Math.Floor(vessel.Litres / step + 1e-9) * step;
            fills.Add((vessel, Math.Max(step, Math.Round(Math.Min(litres, most) / step) * step)));
        }

        return fills;
    }

    // Where the cans together want more of something than there is, each may draw its share by volume; else as it likes.
    private static double[][] SupplyShares(IReadOnlyList<IReadOnlyList<int>> blocks, Assignment assignment, IReadOnlyList<Column> columns, IReadOnlyList<(Vessel Vessel, double Litres)> fills)
    {
        var relaxed = blocks.Select(assignment.Relax).ToList();
        var all = fills.Sum(fill => fill.Litres);
        var shares = fills.Select(_ => new double[columns.Count]).ToArray();
        for (var j = 0; j < columns.Count; j++)
        {
            var wanted = relaxed.Select((can, k) => can.PerLitre.Count == 0 ? 0 : can.PerLitre[j] * fills[k].Litres).Sum();
            for (var k = 0; k < shares.Length; k++)
            {
                shares[k][j] = wanted > columns[j].MostSteps && blocks.Count > 1 ? Math.Floor(columns[j].MostSteps * fills[k].Litres / all) : double.MaxValue;
            }
        }

        return shares;
    }

    private PlanOutcome Finish(PlannedCans planned, Assignment assignment)
    {
        Say("writing the cards", planned);
        var writer = new CardWriter(_request, _chemistry);
        var drawn = new Dictionary<Guid, double>();
        var cards = new List<CanPlan>();
        foreach (var (can, index) in planned.Cans.Select((can, index) => (can, index)))
        {
            _cancel.ThrowIfCancellationRequested();
            cards.Add(writer.Write(can, ((char)('A' + index)).ToString(), drawn) with { Concentrates = [.. can.Bottles.Select(bottle => bottle.Recipe)] });
            Draw(can.Can, drawn);
        }

        var bottles = planned.Cans.SelectMany(can => can.Bottles).Select(bottle => bottle.Recipe).ToList();
        var left = _request.Cupboard.ToDictionary(
            item => item.Product.Id,
            item => item.GramsLeft - planned.Cans.Sum(can => Grams(can.Can, item.Product.Id)) - bottles.Sum(bottle => bottle.Weigh.Where(each => each.ProductId == item.Product.Id).Sum(each => each.Grams)));
        Say("looking for what would meet the rest", planned);
        Func<int, bool> alone = serving => assignment.Outside([serving]) < 1e-3;
        var plan = new Plan
        {
            Cans = cards,
            Concentrates = bottles,
            Cost = cards.Sum(card => card.Cost),
            RelativeGap = planned.Gap,
            Took = _clock.Elapsed,
            GramsLeftAfter = left,
        };
        return new PlanOutcome { Plan = plan, Unmet = new WayOut(_chemistry, _request, () => Left < -_limit / 5).Of(planned.Cans, alone) };
    }

    private static double Grams(VerifiedCan can, Guid product) =>
        can.Columns.Select((column, j) => column.Kind == ColumnKind.Product && column.Id == product ? can.Contents.Steps[j] * column.Step * column.GramsPerUnit : 0).Sum();

    // Oldest lots first.
    private static void Draw(VerifiedCan can, Dictionary<Guid, double> drawn)
    {
        for (var j = 0; j < can.Columns.Count; j++)
        {
            var grams = can.Columns[j].Kind == ColumnKind.Product ? can.Contents.Steps[j] * can.Columns[j].Step * can.Columns[j].GramsPerUnit : 0;
            foreach (var lot in can.Columns[j].Lots)
            {
                var take = Math.Min(grams, Math.Max(0, lot.GramsLeft - drawn.GetValueOrDefault(lot.Id)));
                drawn[lot.Id] = drawn.GetValueOrDefault(lot.Id) + take;
                grams -= take;
            }
        }
    }

    private string WhyNothing() => WhyNothing(_request.MostCans);

    private string WhyNothing(int most) => (int)Math.Ceiling(_request.Groups.Sum(group => group.Litres) / _vessels[^1].Litres - 1e-9) is var enough && enough > most
        ? $"the plants drink more than {most} can{(most == 1 ? "" : "s")} of {_vessels[^1].Name} hold: {enough} cans, or a larger one"
        : new WayOut(_chemistry, _request, () => false).Limits(_nearest);

    private PlanOutcome Nothing(string why) => new()
    {
        Plan = null,
        Unmet = [.. _request.Groups.Select(group => new UnmetWant(group.Name, "a can at all", 0, 0, 0, "", why))],
    };

    private void Say(string doing, PlannedCans? best) =>
        _progress?.Report(new PlanProgress(doing, Math.Clamp(_work.Elapsed / _request.TimeLimit, 0, 1), best?.Gap));
}
