using Rootwater.Growing.Evidence.Numbers;

namespace Rootwater.Growing.Evidence.Survival;

/// <summary>
/// Does a hazard ratio change as time goes on? The score test of adding covariate × g(t) to the model (Grambsch and Therneau 1994, in the exact form that uses
/// the information at each event time).
/// </summary>
internal static class ProportionalHazards
{
    public static IReadOnlyList<ProportionalityCheck> Check(CoxProblem problem, CoxLayout data, IReadOnlyList<string> names, double[] beta, TimeScale scale)
    {
        var p = data.P;
        var g = Scale(problem.Lifetimes(), scale);
        var u = new double[p];
        var v0 = new double[p, p];
        var v1 = new double[p, p];
        var v2 = new double[p, p];
        CoxLikelihood.Sweep(data, beta, problem.Ties, (time, _, residual, information) =>
        {
            var x = g[time];
            for (var j = 0; j < p; j++)
            {
                u[j] += x * residual[j];
                for (var l = 0; l < p; l++)
                {
                    v0[j, l] += information[j, l];
                    v1[j, l] += x * information[j, l];
                    v2[j, l] += x * x * information[j, l];
                }
            }
        });

        if (SymmetricMatrix.Inverse(v0) is not { } inverse)
        {
            return [];
        }

        // Information left for g(t) once the effects themselves are fitted.
        var left = new double[p, p];
        for (var j = 0; j < p; j++)
        {
            for (var l = 0; l < p; l++)
            {
                left[j, l] = v2[j, l];
                for (var a = 0; a < p; a++)
                {
                    for (var b = 0; b < p; b++)
                    {
                        left[j, l] -= v1[j, a] * inverse[a, b] * v1[b, l];
                    }
                }
            }
        }

        if (SymmetricMatrix.Inverse(left, 1e-10) is not { } leftInverse)
        {
            return [];
        }

        var checks = new List<ProportionalityCheck>();
        for (var j = 0; j < p; j++)
        {
            var chi = u[j] * u[j] / left[j, j];
            checks.Add(new ProportionalityCheck(names[j], chi, 1, Tails.ChiSquareUpper(chi, 1)));
        }

        var global = SymmetricMatrix.Quadratic(leftInverse, u);
        checks.Add(new ProportionalityCheck("GLOBAL", global, p, Tails.ChiSquareUpper(global, p)));
        return checks;
    }

    private static Dictionary<double, double> Scale(IReadOnlyList<Lifetime> lives, TimeScale scale)
    {
        var g = new Dictionary<double, double>();
        var before = 1.0;
        var rank = 0;
        foreach (var step in KaplanMeier.Fit(lives).Steps.Where(step => step.Events > 0))
        {
            g[step.Time] = scale switch
            {
                TimeScale.KaplanMeier => 1 - before,
                TimeScale.Log => Math.Log(step.Time),
                TimeScale.Rank => rank + (step.Events + 1) / 2.0,
                _ => step.Time,
            };
            before = step.Survival;
            rank += step.Events;
        }

        return g;
    }
}
