namespace Rootwater.Growing.Evidence.Survival;

/// <summary>What a regression asks of its data, in whichever form they are given.</summary>
internal abstract class CoxProblem
{
    public abstract int Rows { get; }

    public abstract int Events { get; }

    public abstract IReadOnlyList<string> Names { get; }

    public abstract Ties Ties { get; }

    public abstract TimeScale? ToCheck { get; }

    public abstract bool ByCluster { get; }

    /// <summary>The one value a covariate has in every row; null where it varies.</summary>
    public abstract double? Constant(int covariate);

    public abstract CoxLayout LayOut(int[] columns);

    /// <summary>Lives or their intervals: the curve of all is the same.</summary>
    public abstract IReadOnlyList<Lifetime> Lifetimes();

    public abstract void Check();

    protected static void CheckCovariates(IReadOnlyList<string> names, IReadOnlyList<double[]> covariates, bool mayBeUnknown)
    {
        if (covariates.Count == 0 || covariates.Count != names.Count)
        {
            throw new EvidenceInputException("covariates", covariates.Count, "at least one covariate, each with a name");
        }

        for (var j = 0; j < names.Count; j++)
        {
            if (Array.Exists(covariates[j], value => !double.IsFinite(value) && !(mayBeUnknown && double.IsNaN(value))))
            {
                throw new EvidenceInputException(names[j], "a value that is no number", "a number in every row");
            }
        }
    }
}

/// <summary>Given row by row.</summary>
internal sealed class CoxRowProblem(CoxRequest request) : CoxProblem
{
    public override int Rows => request.Exit.Length;

    public override int Events { get; } = request.Ended.Count(ended => ended);

    public override IReadOnlyList<string> Names => request.Names;

    public override Ties Ties => request.Ties;

    public override TimeScale? ToCheck => request.Check;

    public override bool ByCluster => request.Clusters is not null;

    public override double? Constant(int covariate) => request.Covariates[covariate] is var column && Array.TrueForAll(column, value => value == column[0]) ? column[0] : null;

    public override CoxLayout LayOut(int[] columns) => CoxData.From(request, columns);

    public override IReadOnlyList<Lifetime> Lifetimes() => [.. Enumerable.Range(0, Rows).Select(LifetimeOf)];

    private Lifetime LifetimeOf(int i) => new(request.Entry is null ? double.NegativeInfinity : request.Entry[i], request.Exit[i], request.Ended[i]);

    public override void Check()
    {
        var n = Rows;
        if (request.Covariates.Count > 0 && n == 0)
        {
            throw new EvidenceInputException("rows", 0, "at least one row");
        }

        if (request.Ended.Length != n || request.Covariates.Any(column => column.Length != n) || request.Entry is { } entry && entry.Length != n || request.Strata is { } s && s.Length != n || request.Clusters is { } c && c.Length != n)
        {
            throw new EvidenceInputException("rows", n, "columns of the same length");
        }

        for (var i = 0; i < n; i++)
        {
            KaplanMeier.Check(LifetimeOf(i));
        }

        CheckCovariates(request.Names, request.Covariates, mayBeUnknown: false);
    }
}

/// <summary>Given as lives in steps.</summary>
internal sealed class CoxLivesProblem(CoxLives request) : CoxProblem
{
    private readonly int[] _rows = request.Covariates.Count > 0 ? CoxLives.RowsOf(request.Lives, request.StepLength, request.Covariates[0].Length) : [];

    public override int Rows => _rows.Sum();

    public override int Events { get; } = request.Lives.Count(life => life.Ended);

    public override IReadOnlyList<string> Names => request.Names;

    public override Ties Ties => Ties.Efron;

    public override TimeScale? ToCheck => request.Check;

    public override bool ByCluster => request.ByCluster;

    public override double? Constant(int covariate)
    {
        var column = request.Covariates[covariate];
        var used = Enumerable.Range(0, column.Length).Where(i => _rows[i] > 0 && !double.IsNaN(column[i])).Select(i => column[i]);
        var first = used.FirstOrDefault(double.NaN);
        return used.All(value => value == first) ? first : null;
    }

    public override CoxLayout LayOut(int[] columns) => new CoxLivesLayout(request, _rows, columns);

    public override IReadOnlyList<Lifetime> Lifetimes() => [.. request.Lives.Select(life => new Lifetime(double.NegativeInfinity, life.Length, life.Ended))];

    public override void Check()
    {
        CheckCovariates(request.Names, request.Covariates, mayBeUnknown: true);
        if (request.Lives.Count == 0)
        {
            throw new EvidenceInputException("lives", 0, "at least one life");
        }

        foreach (var life in request.Lives)
        {
            KaplanMeier.Check(new Lifetime(double.NegativeInfinity, life.Length, life.Ended));
        }
    }
}
