using Rootwater.Growing.Evidence.Survival;
using Rootwater.Growing.Evidence.Verdicts;

namespace Rootwater.Growing.Evidence.Trials;

/// <summary>Draws trials from a plan and applies the pre-stated test to them: the draw made again, blocks and all.</summary>
public static class TrialSimulator
{
    /// <summary>Simulated power, on all cores; the same seed gives the same figure on any machine.</summary>
    /// <param name="design">The plan.</param>
    /// <param name="runs">How many trials are drawn.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="progress">Share done, 0 to 1.</param>
    /// <param name="cancel">To stop it.</param>
    /// <exception cref="EvidenceInputException">A figure of the design is out of range.</exception>
    public static TrialPowerResult Power(TrialDesign design, int runs = 2000, int seed = 1, IProgress<double>? progress = null, CancellationToken cancel = default) =>
        TrialRuns.Power(design, runs, seed, progress, cancel, (levels, redraws, random) => Run(design, levels, redraws, random));

    /// <summary>One trial; its total is the leaves lost by the end.</summary>
    private static TrialRun Run(TrialDesign design, IReadOnlyList<double> levels, TrialRedraws redraws, Random random)
    {
        var arms = redraws.Deal(random);
        var plants = arms.Length;
        var leaves = new List<(int Plant, double Born, double Dies)>();
        var scale = design.MedianLeafYears / Math.Pow(Math.Log(2), 1 / design.Shape);
        for (var plant = 0; plant < plants; plant++)
        {
            var hazard = Math.Exp(design.PlantSpread * Normal(random)) * (arms[plant] == 1 ? design.HazardRatio : 1);
            // Leaves at the start are of the ages that a plant in steady growth shows: births go back one mean life and those lost before the start are not seen.
            var before = design.LeavesPerPlant / Math.Max(design.NewLeavesPerYear, design.LeavesPerPlant / (2 * design.MedianLeafYears));
            var count = (int)Math.Round(design.LeavesPerPlant);
            for (var k = 0; k < count; k++)
            {
                var age = before * random.NextDouble();
                // The treatment begins at the start: until then the leaf lived under the plant's own hazard, and it is there, so it enters late at its age.
                leaves.Add((plant, -age, -age + Life(age, hazard)));
            }

            for (var day = Exponential(random, design.NewLeavesPerYear); day < design.Years; day += Exponential(random, design.NewLeavesPerYear))
            {
                leaves.Add((plant, day, day + Life(0, hazard)));
            }
        }

        var lost = leaves.Count(leaf => leaf.Dies <= design.Years);
        for (var look = 0; look < levels.Count; look++)
        {
            if (Reaches(leaves, redraws, arms, design.Years * (look + 1) / levels.Count, levels[look]))
            {
                return new TrialRun(look, lost);
            }
        }

        return new TrialRun(-1, lost);

        // A life longer than the age it has: inverse of the conditional Weibull survival.
        double Life(double age, double hazard) =>
            scale * Math.Pow(Math.Pow(age / scale, design.Shape) - Math.Log(1 - random.NextDouble()) / hazard, 1 / design.Shape);
    }

    private static bool Reaches(List<(int Plant, double Born, double Dies)> leaves, TrialRedraws redraws, byte[] arms, double now, double level)
    {
        var lives = new List<(string, Lifetime)>(leaves.Count);
        foreach (var (plant, born, dies) in leaves)
        {
            if (born < now)
            {
                lives.Add((redraws.Plants[plant], new Lifetime(born < 0 ? -born : double.NegativeInfinity, Math.Min(dies, now) - born, dies <= now)));
            }
        }

        if (lives.TrueForAll(each => !each.Item2.Ended))
        {
            return false;
        }

        var scores = PlantScores.Of(lives);
        return redraws.Reaches([.. redraws.Plants.Select(plant => scores.GetValueOrDefault(plant, double.NaN))], arms, level);
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static double Exponential(Random random, double rate) => rate <= 0 ? double.PositiveInfinity : -Math.Log(1 - random.NextDouble()) / rate;
}
