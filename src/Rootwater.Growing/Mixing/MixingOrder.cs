using Rootwater.Chemistry.Saturation;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>One thing that goes into the water, with what it brings to the finished volume.</summary>
/// <param name="Column">Index of its column.</param>
/// <param name="Steps">How many steps of it.</param>
/// <param name="Brought">mol per kg of water.</param>
/// <param name="IsTrim">The last of the acid or base, kept for the end.</param>
internal sealed record Addition(int Column, double Steps, ComponentAmounts Brought, bool IsTrim = false);

/// <summary>A moment while mixing: the mineral nearest to falling out and its saturation index.</summary>
internal readonly record struct Moment(Mineral? Mineral, double Index)
{
    public static Moment Clear => new(null, double.NegativeInfinity);

    public static Moment Worse(Moment one, Moment other) => other.Index > one.Index ? other : one;
}

/// <summary>
/// Derives the order of mixing: of all orders, one whose worst saturation index after any step is least; among those, the one
/// whose additions meet the gentlest water where they fall in. Iron's minerals do not count here: a chelate gives its iron up over hours and days,
/// and the finished can is judged by them too.
/// </summary>
/// <remarks>
/// What is in the can after a set of additions does not depend on their order, so the search runs over sets and not over
/// permutations: 2^n solves for n additions, exact up to <see cref="MostExact"/>, a beam above. Where an addition falls in, before it is stirred, it is
/// <see cref="PlumeStrength"/> times as strong as in the finished can; that is our figure (common practice, no source), and it only
/// decides between orders that are equally good once stirred.
/// </remarks>
internal sealed class MixingOrder(CanChemistry chemistry, ComponentAmounts water, IReadOnlyList<Addition> additions)
{
    /// <summary>How much stronger than in the finished can an addition is where it falls in.</summary>
    public const double PlumeStrength = 10;
    private const int MostExact = 9;
    private const int BeamWidth = 60;
    private readonly Dictionary<int, Moment> _stirred = [];
    private readonly Dictionary<(int, int), Moment> _plumes = [];

    /// <summary>Indexes of the additions in the best order; trims last.</summary>
    public IReadOnlyList<int> Best()
    {
        var free = Enumerable.Range(0, additions.Count).Where(i => !additions[i].IsTrim).ToList();
        var trims = Enumerable.Range(0, additions.Count).Where(i => additions[i].IsTrim);
        return [.. free.Count <= MostExact ? Exact(free) : Beam(free), .. trims];
    }

    /// <summary>The worst moment of an order, each addition stirred clear.</summary>
    public Moment WorstOf(IReadOnlyList<int> order)
    {
        var (set, worst) = (0, Moment.Clear);
        foreach (var index in order)
        {
            set |= 1 << index;
            worst = Moment.Worse(worst, Stirred(set));
        }

        return worst;
    }

    /// <summary>The worst moment of an order where things fall in.</summary>
    public Moment WorstPlumeOf(IReadOnlyList<int> order)
    {
        var (set, worst) = (0, Moment.Clear);
        foreach (var index in order)
        {
            worst = Moment.Worse(worst, Plume(set, index));
            set |= 1 << index;
        }

        return worst;
    }

    /// <summary>After a set of additions, stirred.</summary>
    public Moment Stirred(int set)
    {
        if (!_stirred.TryGetValue(set, out var moment))
        {
            moment = Look(Totals(set));
            _stirred[set] = moment;
        }

        return moment;
    }

    private Moment Plume(int set, int index)
    {
        if (!_plumes.TryGetValue((set, index), out var moment))
        {
            moment = Look(Totals(set).PlusScaled(additions[index].Brought, PlumeStrength));
            _plumes[(set, index)] = moment;
        }

        return moment;
    }

    private ComponentAmounts Totals(int set)
    {
        var totals = water;
        for (var i = 0; i < additions.Count; i++)
        {
            if ((set & (1 << i)) != 0)
            {
                totals = totals.Plus(additions[i].Brought);
            }
        }

        return totals;
    }

    // A state the chemistry cannot reach is worse than any it can.
    private Moment Look(ComponentAmounts totals)
    {
        if (CanChemistry.Run(totals, new() { Temperature = chemistry.Temperature }) is not { } solution)
        {
            return new Moment(null, 10);
        }

        return CanChemistry.ClosestWhileMixing(solution) is { } closest ? new Moment(closest.Mineral, closest.Index) : Moment.Clear;
    }

    // What a plume costs: nothing while every mineral is a tenfold from saturation, steeply more beyond it.
    private double PlumeCost(int set, int index) => Math.Pow(Math.Max(0, Plume(set, index).Index + 1), 2);

    private List<int> Exact(List<int> free)
    {
        var full = (1 << free.Count) - 1;
        var worst = new double[full + 1];
        Array.Fill(worst, double.PositiveInfinity);
        worst[0] = double.NegativeInfinity;
        for (var s = 1; s <= full; s++)
        {
            var before = double.PositiveInfinity;
            for (var i = 0; i < free.Count; i++)
            {
                if ((s & (1 << i)) != 0)
                {
                    before = Math.Min(before, worst[s & ~(1 << i)]);
                }
            }

            worst[s] = Math.Max(before, Stirred(Global(s, free)).Index);
        }

        // A tenth of an index more than the least is no worse in practice, and leaves room to be gentle where things fall in.
        var allowed = worst[full] + 0.1;
        var cost = new double[full + 1];
        var last = new int[full + 1];
        Array.Fill(cost, double.PositiveInfinity);
        cost[0] = 0;
        for (var s = 1; s <= full; s++)
        {
            if (Stirred(Global(s, free)).Index > allowed)
            {
                continue;
            }

            for (var i = 0; i < free.Count; i++)
            {
                var before = s & ~(1 << i);
                if (before != s && !double.IsInfinity(cost[before]) && cost[before] + PlumeCost(Global(before, free), free[i]) is var sum && sum < cost[s])
                {
                    (cost[s], last[s]) = (sum, i);
                }
            }
        }

        var order = new List<int>();
        for (var s = full; s != 0; s &= ~(1 << last[s]))
        {
            order.Add(free[last[s]]);
        }

        order.Reverse();
        return order;
    }

    private List<int> Beam(List<int> free)
    {
        List<(List<int> Order, int Set, double Worst, double Cost)> beam = [([], 0, double.NegativeInfinity, 0)];
        for (var depth = 0; depth < free.Count; depth++)
        {
            beam = [.. beam.SelectMany(state => free.Where(i => (state.Set & (1 << i)) == 0).Select(i =>
                {
                    var set = state.Set | (1 << i);
                    return ((List<int>)[.. state.Order, i], set, Math.Max(state.Worst, Stirred(set).Index), state.Cost + PlumeCost(state.Set, i));
                }))
                .OrderBy(state => Math.Round(state.Item3, 1)).ThenBy(state => state.Item4)
                .DistinctBy(state => state.set).Take(BeamWidth)];
        }

        return beam[0].Order;
    }

    private static int Global(int local, List<int> free)
    {
        var set = 0;
        for (var i = 0; i < free.Count; i++)
        {
            if ((local & (1 << i)) != 0)
            {
                set |= 1 << free[i];
            }
        }

        return set;
    }
}
