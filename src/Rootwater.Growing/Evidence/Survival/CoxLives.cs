namespace Rootwater.Growing.Evidence.Survival;

/// <summary>A life under covariates that change in steps on a grid of days it shares with the others of its plant.</summary>
/// <param name="Length">Age at loss, or when last seen.</param>
/// <param name="Ended">True where it was lost then.</param>
/// <param name="FirstStep">Age at which its first step ends; those after it are of one length.</param>
/// <param name="Profile">Its covariates over the first step; over each further step those of the next profile.</param>
/// <param name="Stratum">Compared only within.</param>
/// <param name="Cluster">The plant it hangs on.</param>
public readonly record struct SteppedLife(double Length, bool Ended, double FirstStep, int Profile, int Stratum, int Cluster)
{
    internal int Steps(double stepLength) => Length <= FirstStep ? 1 : 1 + (int)Math.Ceiling((Length - FirstStep) / stepLength);

    internal double Exit(int step, int steps, double stepLength) => step == steps - 1 ? Length : FirstStep + step * stepLength;
}

/// <summary>
/// The data of a proportional hazards regression over lives in steps. The same as a <see cref="CoxRequest"/> with a row per life and step, which for the leaves of a large bench are two
/// millions: here no row is ever written down.
/// </summary>
public sealed record CoxLives
{
    /// <summary>Length of a step, in the unit of the lives.</summary>
    public required double StepLength { get; init; }

    public required IReadOnlyList<SteppedLife> Lives { get; init; }

    /// <summary>Names of the covariates.</summary>
    public required IReadOnlyList<string> Names { get; init; }

    /// <summary>One array per covariate, one value per profile; not a number where it is not known: it stands at the mean of the rest there, which says nothing for or against it.</summary>
    public required IReadOnlyList<double[]> Covariates { get; init; }

    /// <summary>Whether errors are made robust by cluster.</summary>
    public bool ByCluster { get; init; }

    /// <summary>Whether proportional hazards are to be checked, and on which scale of time.</summary>
    public TimeScale? Check { get; init; }

    /// <summary>How many rows each profile stands for.</summary>
    public static int[] RowsOf(IReadOnlyList<SteppedLife> lives, double stepLength, int profiles)
    {
        var rows = new int[profiles];
        foreach (var life in lives)
        {
            var steps = life.Steps(stepLength);
            for (var step = 0; step < steps; step++)
            {
                rows[life.Profile + step]++;
            }
        }

        return rows;
    }
}

/// <summary>Lives in steps, walked down from their ends all at once.</summary>
internal sealed class CoxLivesLayout : CoxLayout
{
    private readonly double _stepLength;
    private readonly SteppedLife[][] _strata;

    [System.Diagnostics.CodeAnalysis.SetsRequiredMembers]
    public CoxLivesLayout(CoxLives request, int[] rows, int[] columns)
    {
        P = columns.Length;
        (Z, Scale) = Scaled([.. columns.Select(j => request.Covariates[j])], rows);
        _stepLength = request.StepLength;
        _strata = [.. request.Lives.GroupBy(life => life.Stratum).OrderBy(stratum => stratum.Key).Select(stratum => stratum.ToArray())];
    }

    public override int Strata => _strata.Length;

    public override (int From, int To) ProfilesOf(int stratum) => (0, Profiles);

    public override IEnumerable<CoxChange> Falling(int stratum)
    {
        var lives = _strata[stratum];
        var next = new PriorityQueue<(int Life, int Step, int Steps), double>(lives.Length);
        for (var i = 0; i < lives.Length; i++)
        {
            var steps = lives[i].Steps(_stepLength);
            next.Enqueue((i, steps - 1, steps), -lives[i].Length);
        }

        while (next.TryDequeue(out var at, out var age))
        {
            var life = lives[at.Life];
            yield return new CoxChange(-age, life.Profile + at.Step, false, life.Ended && at.Step == at.Steps - 1);
            if (at.Step < at.Steps - 1)
            {
                yield return new CoxChange(-age, life.Profile + at.Step + 1, true, false);
            }

            if (at.Step > 0)
            {
                next.Enqueue((at.Life, at.Step - 1, at.Steps), -life.Exit(at.Step - 1, at.Steps, _stepLength));
            }
        }
    }

    public override IEnumerable<CoxRow> RowsOf(int stratum)
    {
        foreach (var life in _strata[stratum])
        {
            var (steps, entry) = (life.Steps(_stepLength), double.NegativeInfinity);
            for (var step = 0; step < steps; step++)
            {
                var exit = life.Exit(step, steps, _stepLength);
                yield return new CoxRow(entry, exit, life.Ended && step == steps - 1, life.Profile + step, life.Cluster);
                entry = exit;
            }
        }
    }
}
