using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>One can of a plan before its card is written.</summary>
internal sealed record PlannedCan
{
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Vessel Vessel { get; init; }
    public required IReadOnlyList<WantGroup> Groups { get; init; }

    /// <summary>Numbers of the servings in it.</summary>
    public required IReadOnlyList<int> Block { get; init; }
    public required CanGoal Goal { get; init; }

    /// <summary>Its plants as a share of all plants.</summary>
    public required double Share { get; init; }
    public required VerifiedCan Can { get; init; }
    public required double Bound { get; init; }
    public required Linearisation Line { get; init; }
    public IReadOnlyList<Bottle> Bottles { get; init; } = [];

    /// <summary>The earlier can of this plan that it is made from, or null.</summary>
    public Guid? ToppedFrom { get; init; }

    /// <summary>Why it is filled fuller than its plants drink, or null.</summary>
    public string? FullerBecause { get; init; }

    /// <summary>Steps of one column in it.</summary>
    public double StepsOf(Guid column) => Enumerable.Range(0, Can.Columns.Count).Where(j => Can.Columns[j].Id == column).Sum(j => Can.Contents.Steps[j]);

    public IEnumerable<BandResult> Bands => Groups.SelectMany(group => CardWriter.Serve(group, Can).Bands);

    public bool AllMet => Bands.All(band => band.Met);
}

/// <summary>Builds one can: doses large enough to measure; where that leaves a band, a fuller can; where that does too, concentrates.</summary>
internal sealed class CanBuilder(CanChemistry chemistry, Tools tools, double relativeGap, CancellationToken cancel)
{
    private readonly CanChemistry _chemistry = chemistry;
    private readonly double _relativeGap = relativeGap;
    private readonly CancellationToken _cancel = cancel;

    private const double MostFuller = 1.6;

    /// <param name="vessel">Where it is mixed.</param>
    /// <param name="litres">To fill for what the plants drink.</param>
    /// <param name="groups">Whom it serves, with their shares of all plants.</param>
    /// <param name="block">Numbers of their servings.</param>
    /// <param name="columns">What there is, with the supply left for this can.</param>
    /// <param name="start">Totals to draw the first lines at.</param>
    /// <param name="firstBottle">Letter of the next bottle.</param>
    /// <param name="timeLimit">Of work, for this can.</param>
    public (PlannedCan? Can, VerifiedCan? Nearest) Build(
        Vessel vessel, double litres, IReadOnlyList<(WantGroup Group, double Share)> groups, IReadOnlyList<int> block, IReadOnlyList<Column> columns, ComponentAmounts start, char firstBottle, TimeSpan timeLimit)
    {
        var attempt = new Attempt(this, vessel, groups, block, start);
        var weighable = columns.Select(Columns.MeasuredWell).ToList();
        var (plain, nearest) = attempt.Search(litres, weighable, [], null, timeLimit / 2);
        if (plain is null || plain.AllMet)
        {
            return (plain, nearest);
        }

        var best = plain;
        var wanted = Wanted(plain, litres, columns);
        if (wanted.Count == 0)
        {
            return (plain, nearest);
        }

        var fuller = Fuller(vessel, litres, wanted);
        if (fuller > litres)
        {
            Keep(attempt.Search(fuller, weighable, [], "filled fuller than the plants drink, so that every dose is large enough to measure", timeLimit / 4).Can);
        }

        if (!best.AllMet)
        {
            var bottles = new ConcentrateDesigner(_chemistry, tools).Design(wanted, firstBottle);
            if (bottles.Count > 0)
            {
                // What a bottle holds may still be weighed where the dose is large enough; the optimiser makes no more bottles than it must.
                List<Column> withBottles = [.. weighable, .. bottles.Select(bottle => bottle.Column)];
                Keep(attempt.Search(litres, withBottles, bottles, null, timeLimit / 4).Can);
            }
        }

        return (best, nearest);

        void Keep(PlannedCan? can)
        {
            if (can is not null && can.Can.Objective < best.Can.Objective - 1e-6)
            {
                best = can;
            }
        }
    }

    /// <summary>A can whose every dose is measured well, without looking at bottles or fuller cans.</summary>
    public PlannedCan? Plain(Vessel vessel, double litres, IReadOnlyList<(WantGroup Group, double Share)> groups, IReadOnlyList<int> block, IReadOnlyList<Column> columns, ComponentAmounts start, TimeSpan timeLimit) =>
        new Attempt(this, vessel, groups, block, start).Search(litres, [.. columns.Select(Columns.MeasuredWell)], [], null, timeLimit).Can;

    // What stays the same while volumes and columns are tried.
    private sealed class Attempt(CanBuilder builder, Vessel vessel, IReadOnlyList<(WantGroup Group, double Share)> groups, IReadOnlyList<int> block, ComponentAmounts start)
    {
        // Within the can its plants weigh 1 together, so that a small can's bands stand above its tie-breaks as a large one's do.
        private readonly double _share = groups.Sum(group => group.Share);

        public (PlannedCan? Can, VerifiedCan? Nearest) Search(double volume, IReadOnlyList<Column> all, IReadOnlyList<Bottle> bottles, string? fullerBecause, TimeSpan limit)
        {
            var goal = CanGoal.For([.. groups.Select(group => (group.Group, group.Share / _share))]);
            var with = BiuretCap.On(all, volume, goal.Limits);
            var search = new CanOptimiser(builder._chemistry, with, goal, volume, vessel.RelativeVolumeError).Search(start, limit, builder._relativeGap, builder._cancel);
            return (search.Best is not { } can ? null : new PlannedCan
            {
                Vessel = vessel,
                Groups = [.. groups.Select(group => group.Group)],
                Block = block,
                Goal = goal,
                Share = _share,
                Can = can,
                Bound = search.Bound,
                Line = search.Line!,
                Bottles = [.. bottles.Where(bottle => can.Contents.Steps[IndexOf(with, bottle.Column.Id)] > 0)],
                FullerBecause = fullerBecause,
            }, search.Nearest);
        }
    }

    private static int IndexOf(IReadOnlyList<Column> columns, Guid id) => Enumerable.Range(0, columns.Count).First(j => columns[j].Id == id);

    // What the unrounded can would take of products whose dose is too small to measure, in grams.
    private List<(Column Column, double Grams)> Wanted(PlannedCan plain, double litres, IReadOnlyList<Column> columns)
    {
        var relaxed = new CanModel([.. columns.Select(Columns.Unrounded)], plain.Goal, litres, _chemistry.KgWaterPerLitre, plain.Line, new EdgeFactors()).Relax(_chemistry.Work);
        var wanted = new List<(Column, double)>();
        for (var j = 0; relaxed is not null && j < columns.Count; j++)
        {
            var least = Columns.MeasuredWell(columns[j]).LeastStepsWhenUsed;
            var steps = relaxed.Steps[j] / Columns.Finer;
            if (columns[j].Kind == ColumnKind.Product && steps > 1e-4 * least && steps < least)
            {
                wanted.Add((columns[j], steps * columns[j].Step * columns[j].GramsPerUnit));
            }
        }

        return wanted;
    }

    // The volume at which the smallest of the doses is large enough; the first volume where that is too much.
    private double Fuller(Vessel vessel, double litres, List<(Column Column, double Grams)> wanted)
    {
        var factor = wanted.Max(each => Columns.MeasuredWell(each.Column).LeastStepsWhenUsed * each.Column.Step * each.Column.GramsPerUnit / each.Grams);
        var step = tools.WaterStepLitres;
        var volume = Math.Round(Math.Ceiling(litres * factor / step - 1e-6) * step, 6);
        return factor <= MostFuller && volume <= vessel.Litres + 1e-9 ? volume : litres;
    }
}
