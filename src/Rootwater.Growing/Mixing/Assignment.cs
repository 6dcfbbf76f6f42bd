using System.Diagnostics;
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
/// for any few servings H the best partition of H alone, plus f of each other serving alone, is a bound for all of them.
/// </remarks>
internal sealed class Assignment
{
    private const int MostExact = 7;
    private const int MostAnchors = 6;
    private readonly IReadOnlyList<Serving> _servings;
    private readonly IReadOnlyList<Column> _columns;
    private readonly CanChemistry _chemistry;
    private readonly double _largestVessel;
    private readonly CancellationToken _cancel;
    private readonly Dictionary<string, RelaxedCan> _known = [];
    private readonly Linearisation _line;

    private Assignment(IReadOnlyList<Serving> servings, IReadOnlyList<Column> columns, CanChemistry chemistry, Linearisation line, double largestVessel, CancellationToken cancel) =>
        (_servings, _columns, _chemistry, _line, _largestVessel, _cancel) = (servings, columns, chemistry, line, largestVessel, cancel);

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
        var at = Guess(goal, chemistry.KgWaterPerLitre);
        Assignment? assignment = null;
        for (var round = 0; round < 2; round++)
        {
            if (chemistry.Linearise(at, goal.WorkingPH, goal.PHLevels, movable) is not { } line)
            {
                return assignment;
            }

            assignment = new Assignment(servings, columns, chemistry, line, largestVessel, cancel);
            var all = assignment.Relax([.. Enumerable.Range(0, servings.Count)]);
            if (double.IsInfinity(all.Value))
            {
                return assignment;
            }

            at = all.Totals;
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
        var key = string.Join(',', block.Order());
        if (_known.TryGetValue(key, out var known))
        {
            return known;
        }

        var goal = CanGoal.For([.. block.Select(i => (_servings[i].Group, _servings[i].Share))]);
        var doses = new CanModel(_columns, goal, 1, _chemistry.KgWaterPerLitre, _line, new EdgeFactors(1), bandsOnly: true).Relax();
        var can = doses is null
            ? new RelaxedCan(double.PositiveInfinity, ComponentAmounts.Zero, [])
            : new RelaxedCan(Math.Max(0, doses.Objective), new CanContents(1, _chemistry.KgWaterPerLitre, doses.Steps).Totals(_columns), doses.Steps);
        _known[key] = can;
        return can;
    }

    /// <summary>Half-widths outside their bands that the servings of a block would be, by the straight lines, in the relaxed can.</summary>
    public double Outside(IReadOnlyList<int> block)
    {
        var can = Relax(block);
        return double.IsInfinity(can.Value) ? double.PositiveInfinity : block.Sum(i => Score(i, can, goal => _line.Outside(goal, can.Totals)));
    }

    /// <summary>The best sharing over exactly up to so many cans; null when they do not hold enough.</summary>
    public Sharing? Share(int cans, TimeSpan timeLimit)
    {
        if (_servings.Sum(serving => serving.Litres) > cans * _largestVessel + 1e-9)
        {
            return null;
        }

        return _servings.Count <= MostExact ? Exact(cans) : Local(cans, timeLimit);
    }

    private Sharing? Exact(int cans)
    {
        (double Value, List<List<int>>? Blocks) best = (double.PositiveInfinity, null);
        foreach (var blocks in Partitions([.. Enumerable.Range(0, _servings.Count)], cans))
        {
            if (blocks.Any(block => !Fits(block)))
            {
                continue;
            }

            var value = blocks.Sum(block => Relax(block).Value);
            if (best.Blocks is null || value < best.Value - 1e-9 || (value < best.Value + 1e-9 && blocks.Count < best.Blocks.Count))
            {
                best = (value, blocks);
            }
        }

        return best.Blocks is null ? null : new Sharing(best.Blocks, best.Value, best.Value);
    }

    private Sharing? Local(int cans, TimeSpan timeLimit)
    {
        var clock = Stopwatch.StartNew();
        var anchors = Anchors();
        var bound = Partitions(anchors, cans).Min(blocks => blocks.Sum(block => Relax(block).Value))
            + Enumerable.Range(0, _servings.Count).Except(anchors).Sum(i => Relax([i]).Value);
        Sharing? best = null;
        foreach (var seeds in Seeds(anchors, cans))
        {
            if (Settle(seeds) is { } blocks)
            {
                var value = blocks.Sum(block => Relax(block).Value);
                if (best is null || value < best.Relaxed)
                {
                    best = new Sharing(blocks, value, Math.Min(bound, value));
                }
            }

            if (clock.Elapsed > timeLimit / 2)
            {
                break;
            }
        }

        return best is null ? null : Move(best, clock, timeLimit);
    }

    // Servings that get on worst with one another: each next one is the one dearest to share with those chosen.
    private List<int> Anchors()
    {
        var chosen = new List<int> { Enumerable.Range(0, _servings.Count).MaxBy(i => _servings[i].Share) };
        while (chosen.Count < Math.Min(MostAnchors, _servings.Count))
        {
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
            cans = [.. next.Select(Relax)];
            seeds = [.. next.Select(block => block[0])];
        }

        return blocks;
    }

    // One serving at a time into another can, while that helps.
    private Sharing Move(Sharing sharing, Stopwatch clock, TimeSpan timeLimit)
    {
        var blocks = sharing.Blocks.Select(block => block.ToList()).ToList();
        for (var moved = true; moved && clock.Elapsed < timeLimit;)
        {
            moved = false;
            for (var i = 0; i < _servings.Count && clock.Elapsed < timeLimit; i++)
            {
                var from = blocks.FindIndex(block => block.Contains(i));
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
        return new Sharing(blocks, value, Math.Min(sharing.Bound, value));
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
