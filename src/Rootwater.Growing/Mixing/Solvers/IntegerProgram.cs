namespace Rootwater.Growing.Mixing.Solvers;

/// <summary>One unknown of a program.</summary>
/// <param name="Lower">Least value.</param>
/// <param name="Upper">Greatest value.</param>
/// <param name="Cost">Coefficient in the objective, which is minimised.</param>
/// <param name="IsInteger">Whether only whole numbers will do.</param>
internal readonly record struct Unknown(double Lower, double Upper, double Cost, bool IsInteger);

/// <summary>One row of a program: Lower ≤ Σ coefficient × unknown ≤ Upper.</summary>
internal readonly record struct Row(double Lower, double Upper, IReadOnlyList<(int Unknown, double Coefficient)> Terms);

/// <summary>A mixed-integer linear program in our own words, so that no solver library's type gets out of this folder.</summary>
internal sealed class IntegerProgram
{
    private readonly List<Unknown> _unknowns = [];
    private readonly List<Row> _rows = [];

    public IReadOnlyList<Unknown> Unknowns => _unknowns;

    public IReadOnlyList<Row> Rows => _rows;

    /// <summary>Adds an unknown and gives its index.</summary>
    public int Add(double lower, double upper, double cost = 0, bool isInteger = false)
    {
        _unknowns.Add(new Unknown(lower, upper, cost, isInteger));
        return _unknowns.Count - 1;
    }

    /// <summary>The same program with some unknowns fixed.</summary>
    public IntegerProgram With(IReadOnlyDictionary<int, double> fixedTo)
    {
        var program = new IntegerProgram();
        for (var i = 0; i < _unknowns.Count; i++)
        {
            program._unknowns.Add(fixedTo.TryGetValue(i, out var value) ? _unknowns[i] with { Lower = value, Upper = value } : _unknowns[i]);
        }

        program._rows.AddRange(_rows);
        return program;
    }

    /// <summary>Adds lower ≤ Σ terms ≤ upper.</summary>
    public void AddRow(double lower, double upper, IReadOnlyList<(int Unknown, double Coefficient)> terms) => _rows.Add(new Row(lower, upper, terms));
}

/// <summary>How a program ended.</summary>
internal enum ProgramStatus
{
    /// <summary>Proven best.</summary>
    Optimal,

    /// <summary>A point, not proven best within the time.</summary>
    Feasible,
    Infeasible,

    /// <summary>No point within the time, or numerical trouble.</summary>
    Unknown,
}

/// <summary>What the solver found.</summary>
/// <param name="Status">How it ended.</param>
/// <param name="Values">One value for each unknown; empty without a point.</param>
/// <param name="Objective">The objective there.</param>
/// <param name="Bound">No point can do better than this.</param>
internal sealed record ProgramAnswer(ProgramStatus Status, IReadOnlyList<double> Values, double Objective, double Bound)
{
    public bool HasPoint => Status is ProgramStatus.Optimal or ProgramStatus.Feasible;
}
