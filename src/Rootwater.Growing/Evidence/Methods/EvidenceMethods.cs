namespace Rootwater.Growing.Evidence.Methods;

/// <summary>All methods by name.</summary>
public static class EvidenceMethods
{
    /// <summary>Options every method takes.</summary>
    public static IReadOnlyList<MethodOption> Common { get; } =
    [
        new("where", "rows to use: column=value|value, column!=value, column<number (<=, >, >=), with ; between conditions", "all rows"),
        new("label", "name of the whole in the output", "all"),
    ];

    public static IReadOnlyList<IEvidenceMethod> All { get; } =
    [
        new KaplanMeierMethod(), new LogRankMethod(), new CoxMethod(), new ConditionalLogisticMethod(), new WeibullMethod(),
        new RateRatioMethod(), new SingleRateMethod(), new BinomialMethod(), new CountsMethod(),
        new InterruptedSeriesMethod(), new ChangePointMethod(), new TrendMethod(),
        new PairedMethod(), new PermutationMethod(), new MultipleMethod(),
        new CircularMethod(), new CurveMethod(), new GroupedCurveMethod(), new MixedModelMethod(), new MetaAnalysisMethod(),
    ];

    /// <summary>Runs a method on a table.</summary>
    /// <param name="name">The method.</param>
    /// <param name="table">The data.</param>
    /// <param name="options">Options by name, without dashes.</param>
    /// <exception cref="EvidenceInputException">An unknown method, option or column, or a value that cannot be used.</exception>
    public static EvidenceAnswer Run(string name, EvidenceTable table, IReadOnlyDictionary<string, string> options)
    {
        var method = All.FirstOrDefault(candidate => candidate.Name == name)
            ?? throw new EvidenceInputException("method", name, "one of " + string.Join(", ", All.Select(candidate => candidate.Name)));
        var known = method.Options.Concat(Common).Select(option => option.Name).ToHashSet();
        foreach (var option in options.Keys.Where(option => !known.Contains(option)))
        {
            throw new EvidenceInputException("option", "--" + option, $"an option of {name}: " + string.Join(", ", known.Select(o => "--" + o)));
        }

        return method.Run(new MethodRun(method, table, options));
    }
}
