using MathNet.Numerics.Distributions;

namespace Rootwater.Growing.Evidence.Trials;

/// <summary>Draws trials of one value per plant and applies the pre-stated test to them: the draw made again, blocks and all.</summary>
public static class ValueTrialSimulator
{
    /// <summary>Simulated power, on all cores; the same seed gives the same figure on any machine.</summary>
    /// <param name="design">The plan.</param>
    /// <param name="runs">How many trials are drawn.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="progress">Share done, 0 to 1.</param>
    /// <param name="cancel">To stop it.</param>
    /// <exception cref="EvidenceInputException">A figure of the design is out of range.</exception>
    public static TrialPowerResult Power(ValueTrialDesign design, int runs = 2000, int seed = 1, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        var power = TrialRuns.Power(design, runs, seed, progress, cancel, (levels, redraws, random) => Run(design, levels, redraws, random));
        // A mean has nothing to add up: each plant is measured once.
        return design.Counts ? power : power with { MeanLosses = design.Blocks?.Count ?? 2 * design.PlantsPerArm };
    }

    private static TrialRun Run(ValueTrialDesign design, IReadOnlyList<double> levels, TrialRedraws redraws, Random random)
    {
        var arms = redraws.Deal(random);
        var plants = arms.Length;
        var (own, so) = (new double[plants], new double[plants]);
        for (var i = 0; i < plants; i++)
        {
            own[i] = design.Mean * (arms[i] == 1 ? design.Ratio : 1) * (design.Counts ? Frailty(design.PlantSpread, random) : 1 + design.PlantSpread * Normal.Sample(random, 0, 1));
        }

        var stop = -1;
        for (var look = 0; look < levels.Count; look++)
        {
            var (step, until) = (design.Years / levels.Count, design.Years * (look + 1) / levels.Count);
            for (var i = 0; i < plants; i++)
            {
                so[i] = design.Counts ? so[i] + Poisson.Sample(random, Math.Max(own[i] * step, 1e-9)) : own[i] * (1 + design.YearlyScatter / Math.Sqrt(until) * Normal.Sample(random, 0, 1));
            }

            if (stop < 0 && redraws.Reaches(so, arms, levels[look]))
            {
                stop = look;
            }
        }

        return new TrialRun(stop, so.Sum());
    }

    // A gamma of mean 1 with this coefficient of variation.
    private static double Frailty(double spread, Random random) => spread < 0.01 ? 1 : Gamma.Sample(random, 1 / (spread * spread), 1 / (spread * spread));
}
