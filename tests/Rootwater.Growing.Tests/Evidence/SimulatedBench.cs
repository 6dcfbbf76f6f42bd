using Rootwater.Growing.Evidence.Verdicts;

namespace Rootwater.Growing.Tests.Evidence;

/// <summary>
/// Benches with a known truth, drawn day by day: a generator of its own, which shares no code with the methods under test. Leaves are lost by a hazard that rises with age; plants differ; a change may
/// multiply the hazard from a day on, or in one arm.
/// </summary>
internal sealed class SimulatedBench
{
    public int Plants { get; init; } = 9;

    public int LeavesAtStart { get; init; } = 6;

    /// <summary>Leaves at the start are up to so old.</summary>
    public double OldestAtStartDays { get; init; } = 720;

    public double NewLeavesPerYear { get; init; } = 2;

    /// <summary>Hazard per day at age t days: Shape/Scale × (t/Scale)^(Shape - 1).</summary>
    public double ScaleDays { get; init; } = 900;

    public double Shape { get; init; } = 2;

    /// <summary>Plants' hazards lie between 1 - this and 1 + this.</summary>
    public double PlantSpread { get; init; } = 0.5;

    public double Days { get; init; } = 1461;

    /// <summary>Factor on the hazard for a plant on a day.</summary>
    public Func<int, double, double> Effect { get; init; } = (_, _) => 1;

    private const double Step = 4;

    public List<LeafLife> Draw(int seed)
    {
        var random = new Random(seed);
        var leaves = new List<LeafLife>();
        for (var plant = 0; plant < Plants; plant++)
        {
            var frailty = 1 + PlantSpread * (2 * random.NextDouble() - 1);
            for (var k = 0; k < LeavesAtStart; k++)
            {
                Grow(-OldestAtStartDays * random.NextDouble(), 0);
            }

            for (var day = 0.0; day < Days; day += Step)
            {
                if (random.NextDouble() < NewLeavesPerYear * Step / 365.25)
                {
                    Grow(day, day);
                }
            }

            void Grow(double born, double watched)
            {
                for (var day = watched; day < Days; day += Step)
                {
                    var age = day + Step / 2 - born;
                    var hazard = frailty * Effect(plant, day) * Shape / ScaleDays * Math.Pow(age / ScaleDays, Shape - 1);
                    if (random.NextDouble() < 1 - Math.Exp(-hazard * Step))
                    {
                        leaves.Add(new LeafLife("p" + plant, born, watched, day + Step, true));
                        return;
                    }
                }

                leaves.Add(new LeafLife("p" + plant, born, watched, Days, false));
            }
        }

        return leaves;
    }

    /// <summary>What was known on an earlier day.</summary>
    public static List<LeafLife> AsOf(IEnumerable<LeafLife> leaves, double day) =>
        [.. leaves.Where(leaf => leaf.WatchedFromDay < day).Select(leaf => leaf.LastDay > day ? leaf with { LastDay = day, Lost = false } : leaf)];
}
