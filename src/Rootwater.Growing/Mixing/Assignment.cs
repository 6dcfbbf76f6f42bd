using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>A group, or the part of a large group that fits one can.</summary>
/// <param name="Group">With the portions of this part.</param>
/// <param name="Share">Its plants as a share of all plants to be fed.</param>
internal sealed record Serving(WantGroup Group, double Share)
{
    public double Litres => Group.Litres;
}

/// <summary>Who shares a can, for every can, with the relaxed doses.</summary>
/// <param name="Blocks">Indexes of servings, one list for each can.</param>
/// <param name="Relaxed">The value of the relaxed cans.</param>
/// <param name="Bound">No way of sharing servings over this many cans can do better.</param>
internal sealed record Sharing(IReadOnlyList<IReadOnlyList<int>> Blocks, double Relaxed, double Bound);

/// <summary>
/// Shares servings over a number of cans. What a set of servings costs in one can is a linear program in the concentrations; the sum over
/// cans is minimised exactly for few servings (every partition), by local search for many.
/// </summary>
/// <remarks>
/// Putting servings together never makes them cheaper: f(S ∪ T) ≥ f(S) + f(T), because the best doses for both are doses for each. So
/// for any servings that are placed already, f of their cans plus f of each other serving alone is a bound for all sharings that place them so.
/// </remarks>
internal sealed class Assignment
{
    private const int MostExact = 7;
    private const int MostAnchors = 6;

    // Other sharings that are dosed where the best relaxed one leaves a band.
    private const int MostOthers = 5;

    // Relaxed cans the bound may cost, per serving and can.
    private const int RelaxationsForBound = 6;
    private readonly IReadOnlyList<Serving> _servings;
    private readonly IReadOnlyList<Column> _columns;
    private readonly CanChemistry _chemistry;
    private readonly double _largestVessel;
    private readonly CancellationToken _cancel;
    private readonly Dictionary<string, RelaxedCan> _known = [];
    private readonly Dictionary<int, List<Sharing>> _ranked = [];
    private readonly Dictionary<int, Sharing?> _local = [];
    private List<int>? _anchors;
    private readonly Linearisation _line;
    private readonly RelaxedProgram _program;

    private Assignment(IReadOnlyList<Serving> servings, IReadOnlyList<Column> columns, CanChemistry chemistry, Linearisation line, double largestVessel, CancellationToken cancel) =>
        (_servings, _columns, _chemistry, _line, _program, _largestVessel, _cancel) = (servings, columns, chemistry, line, new RelaxedProgram(columns, chemistry.KgWaterPerLitre, line), largestVessel, cancel);

    /// <summary>A can with fractions of steps allowed, for some servings.</summary>
    /// <param name="Value">Its objective; infinite when the hard limits leave nothing.</param>
    /// <param name="Totals">What is in it, mol per kg of water.</param>
    /// <param name="PerLitre">Steps of each column in one litre.</param>
    internal sealed record RelaxedCan(double Value, ComponentAmounts Totals, IReadOnlyList<double> PerLitre);

    /// <summary>Draws the lines near where one can for everybody would be, and is ready to share out.</summary>
    /// <returns>Null when not even the relaxed can for everybody can be computed.</returns>
    public static Assignment? Begin(IReadOnlyList<Serving> servings, IReadOnlyList<Column> columns, CanChemistry chemistry, double largestVessel, CancellationToken cancel)
    {
        var goal = CanGoal.For([.. servings.Select(serving => (serving.Group, serving.Share))]);
        var movable = CanOptimiser.Movable(columns);
        var (at, workingPH) = (Guess(goal, chemistry.KgWaterPerLitre), goal.WorkingPH);
        Assignment? assignment = null;
        for (var round = 0; round < 2; round++)
        {
            if (chemistry.Linearise(at, workingPH, goal.PHLevels, movable) is not { } line)
            {
                return assignment;
            }

            assignment = new Assignment(servings, columns, chemistry, line, largestVessel, cancel);
            var all = assignment.Relax([.. Enumerable.Range(0, servings.Count)]);
            if (double.IsInfinity(all.Value))
            {
                return assignment;
            }

            // Where that can would be, not where it should be: with no acid in the cupboard its pH, and what falls out of it, lies far from the wants.
            (at, workingPH) = (all.Totals, chemistry.Solve(all.Totals) is { } solved ? CanOptimiser.WorkingPH(solved.PH) : workingPH);
        }

        return assignment;
    }

    /// <summary>Roughly what a can that meets the ideals holds: only to have somewhere to draw the first lines.</summary>
    public static ComponentAmounts Guess(CanGoal goal, double kgWaterPerLitre)
    {
        var totals = ComponentAmounts.Zero.With(Component.Carbonate, 3e-4);
        foreach (var each in goal.Goals.Where(each => each.Measure.Kind is MeasureKind.Nutrient or MeasureKind.TotalNitrogen))
        {
            var nutrient = each.Measure.Kind == MeasureKind.TotalNitrogen ? Nutrient.NitrateNitrogen : (Nutrient)each.Measure.Index;
            var (component, gramsPerMole) = Nutrients.CarrierOf(nutrient);
            totals = totals.With(component, Math.Max(totals[component], each.Band.Ideal / 1000 / gramsPerMole / kgWaterPerLitre));
        }

        return totals;
    }

    /// <summary>The relaxed can for some servings.</summary>
    public RelaxedCan Relax(IReadOnlyList<int> block)
    {
        _cancel.ThrowIfCancellationRequested();
        var key = Key(block);
        if (!_known.TryGetValue(key, out var known))
        {
            _known[key] = known = Solve(block);
        }

        return known;
    }

    // The same for several, on every core: what is found does not depend on which is solved first.
    private void RelaxAll(IEnumerable<IReadOnlyList<int>> blocks)
    {
        var asked = blocks.Select(block => (Key: Key(block), Block: block)).Where(each => !_known.ContainsKey(each.Key)).DistinctBy(each => each.Key).ToList();
        if (asked.Count < 2)
        {
            return;
        }

        var found = new RelaxedCan[asked.Count];
        Parallel.For(0, asked.Count, new ParallelOptions { CancellationToken = _cancel }, i => found[i] = Solve(asked[i].Block));
        foreach (var (each, i) in asked.Select((each, i) => (each, i)))
        {
            _known[each.Key] = found[i];
        }
    }

    private static string Key(IEnumerable<int> block) => string.Join(',', block.Order());

    private RelaxedCan Solve(IReadOnlyList<int> block)
    {
        var goal = CanGoal.For([.. block.Select(i => (_servings[i].Group, _servings[i].Share))]);
        var doses = _program.Relax(goal, _chemistry.Work);
        return doses is null
            ? new RelaxedCan(double.PositiveInfinity, ComponentAmounts.Zero, [])
            : new RelaxedCan(Math.Max(0, doses.Objective), new CanContents(1, _chemistry.KgWaterPerLitre, doses.Steps).Totals(_columns), doses.Steps);
    }

    /// <summary>Half-widths outside their bands that the servings of a block would be, by the straight lines, in the relaxed can.</summary>
    public double Outside(IReadOnlyList<int> block)
    {
        var can = Relax(block);
        return double.IsInfinity(can.Value) ? double.PositiveInfinity : block.Sum(i => Score(i, can, goal => _line.Outside(goal, can.Totals)));
    }

    /// <summary>The best sharing over exactly up to so many cans; null when they do not hold enough. Above <see cref="MostExact"/> servings without a bound: see <see cref="Bounded"/>.</summary>
    public Sharing? Share(int cans, TimeSpan limit)
    {
        if (_servings.Sum(serving => serving.Litres) > cans * _largestVessel + 1e-9)
        {
            return null;
        }

        if (_servings.Count <= MostExact)
        {
            return Exact(cans);
        }

        if (!_local.TryGetValue(cans, out var known))
        {
            _local[cans] = known = Local(cans, limit);
        }

        return known;
    }

    /// <summary>
    /// Other sharings over exactly so many cans, the best relaxed first. Where steps are coarse the best sharing of fractions is not always the best of
    /// weighed doses. Empty above <see cref="MostExact"/> servings.
    /// </summary>
    public IReadOnlyList<Sharing> Others(int cans, Sharing than) => _servings.Count > MostExact
        ? []
        : [.. Ranked(cans).Where(sharing => sharing.Blocks.Count == cans && !Same(sharing, than)).Take(MostOthers)];

    private static bool Same(Sharing one, Sharing other) =>
        one.Blocks.Count == other.Blocks.Count && one.Blocks.Zip(other.Blocks).All(pair => pair.First.SequenceEqual(pair.Second));

    private Sharing? Exact(int cans)
    {
        var ranked = Ranked(cans);
        return ranked.Count == 0 ? null : ranked[0];
    }

    // Of equals the one of fewer cans.
    private List<Sharing> Ranked(int cans)
    {
        if (!_ranked.TryGetValue(cans, out var ranked))
        {
            var all = Partitions([.. Enumerable.Range(0, _servings.Count)], cans).Where(blocks => blocks.All(Fits))
                .Select(blocks => (Blocks: blocks, Value: blocks.Sum(block => Relax(block).Value)))
                .OrderBy(each => Math.Round(each.Value, 9)).ThenBy(each => each.Blocks.Count).ToList();
            _ranked[cans] = ranked = [.. all.Select(each => new Sharing(each.Blocks, each.Value, all[0].Value))];
        }

        return ranked;
    }

    private Sharing? Local(int cans, TimeSpan limit)
    {
        var begun = _chemistry.Work.Elapsed;
        var anchors = _anchors ??= Anchors();
        Sharing? best = null;
        foreach (var seeds in Seeds(anchors, cans))
        {
            if (Settle(seeds) is { } blocks)
            {
                var value = blocks.Sum(block => Relax(block).Value);
                if (best is null || value < best.Relaxed)
                {
                    best = new Sharing(blocks, value, 0);
                }
            }

            if (_chemistry.Work.Elapsed > begun + limit / 2)
            {
                break;
            }
        }

        return best is null ? null : Move(best, begun + limit);
    }

    /// <summary>
    /// The sharing with its bound, or a better one. Best first over partial sharings, in the order of who gets on worst: what is placed costs its cans, what is not
    /// costs at least a can of its own.
    /// </summary>
    public Sharing Bounded(Sharing sharing, int cans)
    {
        if (_servings.Count <= MostExact)
        {
            return sharing;
        }

        var anchors = _anchors ??= Anchors();
        List<int> order = [.. anchors, .. Enumerable.Range(0, _servings.Count).Except(anchors).OrderByDescending(i => _servings[i].Share)];
        var open = new PriorityQueue<List<List<int>>, double>();
        open.Enqueue([], order.Sum(i => Relax([i]).Value));
        for (var most = _known.Count + RelaxationsForBound * _servings.Count * cans; open.TryPeek(out var blocks, out var least);)
        {
            _cancel.ThrowIfCancellationRequested();
            if (least >= sharing.Relaxed - 1e-9)
            {
                return sharing with { Bound = sharing.Relaxed };
            }

            var placed = blocks.Sum(block => block.Count);
            if (placed == order.Count)
            {
                return new Sharing([.. blocks.Select(block => (IReadOnlyList<int>)[.. block.Order()])], least, least);
            }

            if (_known.Count >= most)
            {
                return sharing with { Bound = least };
            }

            open.Dequeue();
            var next = order[placed];
            List<List<int>> wider = [.. Enumerable.Range(0, Math.Min(blocks.Count, cans - 1) + 1).Select(k => k < blocks.Count ? [.. blocks[k], next] : new List<int> { next })];
            RelaxAll(wider.Where(Fits));
            foreach (var (with, k) in wider.Select((with, k) => (with, k)))
            {
                if (Fits(with))
                {
                    var before = k < blocks.Count ? Relax(blocks[k]).Value + Relax([next]).Value : Relax([next]).Value;
                    var value = least - before + Relax(with).Value;
                    open.Enqueue([.. blocks.Take(k), with, .. blocks.Skip(k + 1)], double.IsNaN(value) ? double.PositiveInfinity : value);
                }
            }
        }

        return sharing with { Bound = sharing.Relaxed };
    }

    // Servings that get on worst with one another: each next one is the one dearest to share with those chosen.
    private List<int> Anchors()
    {
        var all = Enumerable.Range(0, _servings.Count).ToList();
        var chosen = new List<int> { all.MaxBy(i => _servings[i].Share) };
        RelaxAll(all.Select(i => new List<int> { i }));
        while (chosen.Count < Math.Min(MostAnchors, _servings.Count))
        {
            RelaxAll(all.Except(chosen).Select(i => new List<int> { chosen[^1], i }));
            chosen.Add(Enumerable.Range(0, _servings.Count).Where(i => !chosen.Contains(i))
                .MaxBy(i => chosen.Min(c => Relax([c, i]).Value - Relax([c]).Value - Relax([i]).Value)));
        }

        return chosen;
    }

    private static IEnumerable<List<int>> Seeds(List<int> anchors, int cans)
    {
        yield return anchors.Take(cans).ToList();
        foreach (var skipped in Enumerable.Range(0, Math.Min(cans, anchors.Count)))
        {
            var others = anchors.Where((_, i) => i != skipped).Take(cans).ToList();
            if (others.Count == cans)
            {
                yield return others;
            }
        }
    }

    // Every serving goes to the can that costs it least, the cans are made for those they have, and so on until nobody moves.
    private List<List<int>>? Settle(List<int> seeds)
    {
        var cans = seeds.Select(seed => Relax([seed])).ToList();
        List<List<int>>? blocks = null;
        for (var round = 0; round < 8; round++)
        {
            var next = seeds.Select(_ => new List<int>()).ToList();
            foreach (var i in Enumerable.Range(0, _servings.Count).OrderByDescending(i => _servings[i].Litres))
            {
                var into = Enumerable.Range(0, next.Count).Where(k => Litres(next[k]) + _servings[i].Litres <= _largestVessel + 1e-9)
                    .OrderBy(k => Score(i, cans[k], goal => _line.Penalty(goal, cans[k].Totals))).Cast<int?>().FirstOrDefault();
                if (into is not { } can)
                {
                    return blocks;
                }

                next[can].Add(i);
            }

            next = [.. next.Where(block => block.Count > 0).Select(block => block.Order().ToList())];
            if (blocks is not null && next.Count == blocks.Count && next.Zip(blocks).All(pair => pair.First.SequenceEqual(pair.Second)))
            {
                break;
            }

            blocks = next;
            RelaxAll(next);
            cans = [.. next.Select(Relax)];
            seeds = [.. next.Select(block => block[0])];
        }

        return blocks;
    }

    // One serving at a time into another can, while that helps.
    private Sharing Move(Sharing sharing, TimeSpan end)
    {
        var blocks = sharing.Blocks.Select(block => block.ToList()).ToList();
        for (var moved = true; moved && _chemistry.Work.Elapsed < end;)
        {
            moved = false;
            for (var i = 0; i < _servings.Count && _chemistry.Work.Elapsed < end; i++)
            {
                var from = blocks.FindIndex(block => block.Contains(i));
                if (blocks[from].Count > 1)
                {
                    RelaxAll([[.. blocks[from].Where(k => k != i)], .. blocks.Where((block, to) => to != from && Litres(block) + _servings[i].Litres <= _largestVessel + 1e-9).Select(block => (List<int>)[.. block, i])]);
                }

                for (var to = 0; to < blocks.Count && blocks[from].Count > 1; to++)
                {
                    if (to == from || Litres(blocks[to]) + _servings[i].Litres > _largestVessel + 1e-9)
                    {
                        continue;
                    }

                    List<int> without = [.. blocks[from].Where(k => k != i)], with = [.. blocks[to], i];
                    var gain = Relax(blocks[from]).Value + Relax(blocks[to]).Value - Relax(without).Value - Relax(with).Value;
                    if (gain > 1e-9)
                    {
                        (blocks[from], blocks[to], moved) = (without, with, true);
                        break;
                    }
                }
            }
        }

        var value = blocks.Sum(block => Relax(block).Value);
        return new Sharing(blocks, value, sharing.Bound);
    }

    private double Litres(IEnumerable<int> block) => block.Sum(i => _servings[i].Litres);

    private bool Fits(IEnumerable<int> block) => Litres(block) <= _largestVessel + 1e-9;

    private double Score(int serving, RelaxedCan can, Func<Goal, double> of) =>
        double.IsInfinity(can.Value) ? double.PositiveInfinity : CanGoal.For([(_servings[serving].Group, _servings[serving].Share)]).Goals.Sum(of);

    /// <summary>Every way to put items into at most so many blocks.</summary>
    public static IEnumerable<List<List<int>>> Partitions(IReadOnlyList<int> items, int most)
    {
        var block = new int[items.Count];
        return Place(0, 0);

        IEnumerable<List<List<int>>> Place(int index, int used)
        {
            if (index == items.Count)
            {
                var blocks = Enumerable.Range(0, used).Select(_ => new List<int>()).ToList();
                for (var i = 0; i < items.Count; i++)
                {
                    blocks[block[i]].Add(items[i]);
                }

                yield return blocks;
                yield break;
            }

            for (var k = 0; k <= Math.Min(used, most - 1); k++)
            {
                block[index] = k;
                foreach (var partition in Place(index + 1, Math.Max(used, k + 1)))
                {
                    yield return partition;
                }
            }
        }
    }
}
