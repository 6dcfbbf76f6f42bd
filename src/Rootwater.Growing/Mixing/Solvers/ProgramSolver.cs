using Google.OrTools.LinearSolver;

namespace Rootwater.Growing.Mixing.Solvers;

/// <summary>
/// Solves <see cref="IntegerProgram"/>s with Google OR-Tools: SCIP where whole numbers are asked for, GLOP for relaxations.
/// The only place in Rootwater that knows OR-Tools.
/// </summary>
internal static class ProgramSolver
{
    // Measured on cans of 14 products: the defaults spend 300 ms at the root on cuts and large-neighbourhood searches that a can does not
    // need; these settings prove the same optimum in 50 ms.
    private const string ScipSettings = """
        separating/maxrounds = 0
        separating/maxroundsroot = 3
        presolving/maxrounds = 3
        heuristics/alns/freq = -1
        heuristics/rins/freq = -1
        heuristics/crossover/freq = -1
        heuristics/feaspump/freq = -1
        heuristics/mpec/freq = -1
        heuristics/gins/freq = -1
        heuristics/indicator/freq = -1
        heuristics/undercover/freq = -1
        heuristics/completesol/freq = -1
        conflict/enable = FALSE
        branching/relpscost/initcand = 20
        """;

    private static readonly TimeSpan s_longestRelaxation = TimeSpan.FromMinutes(1);

    /// <summary>Solves with whole numbers where they are asked for.</summary>
    /// <param name="program">The program.</param>
    /// <param name="work">Told what it took, and asked for the guard.</param>
    /// <param name="limit">How much work the search may be: so many nodes are allowed.</param>
    /// <param name="relativeGap">At which proven relative distance from the best it may stop.</param>
    /// <param name="hint">A point to start from, one value for each unknown, or null.</param>
    /// <exception cref="SolverUnavailableException">The native solver library cannot be loaded on this machine.</exception>
    public static ProgramAnswer Solve(IntegerProgram program, WorkClock work, TimeSpan limit, double relativeGap = 1e-6, IReadOnlyList<double>? hint = null) =>
        Run(program, "SCIP", work, limit, relativeGap, hint);

    /// <summary>Solves with all unknowns continuous: a bound for <see cref="Solve"/>.</summary>
    /// <exception cref="SolverUnavailableException">The native solver library cannot be loaded on this machine.</exception>
    public static ProgramAnswer Relax(IntegerProgram program, WorkClock work)
    {
        var answer = Run(program, "GLOP", work, null, 0, null);

        // GLOP gave up on 2 % of small cans where bands are far out of reach ("abnormal", tests' sharing oracle); those have a point all the same.
        return answer.Status == ProgramStatus.Unknown ? Run(program, "CLP", work, null, 0, null) : answer;
    }

    // Without a limit the program is relaxed. The wall clock is the guard's: a relaxation is over long before it, and one that was cut short must not be taken for one without a point.
    private static ProgramAnswer Run(IntegerProgram program, string engine, WorkClock work, TimeSpan? limit, double relativeGap, IReadOnlyList<double>? hint)
    {
        using var solver = Create(engine);
        var relax = limit is null;
        solver.SuppressOutput();
        solver.SetTimeLimit((long)Math.Max(1, (relax ? s_longestRelaxation : work.GuardLeft).TotalMilliseconds));
        var variables = new Variable[program.Unknowns.Count];
        using var objective = solver.Objective();
        for (var i = 0; i < variables.Length; i++)
        {
            var unknown = program.Unknowns[i];
            variables[i] = solver.MakeVar(unknown.Lower, unknown.Upper, unknown.IsInteger && !relax, "");
            if (unknown.Cost != 0)
            {
                objective.SetCoefficient(variables[i], unknown.Cost);
            }
        }

        objective.SetMinimization();
        foreach (var row in program.Rows)
        {
            using var constraint = solver.MakeConstraint(row.Lower, row.Upper);
            foreach (var (unknown, coefficient) in row.Terms)
            {
                constraint.SetCoefficient(variables[unknown], coefficient);
            }
        }

        if (hint is not null && !relax)
        {
            solver.SetHint(variables, [.. hint]);
        }

        var terms = program.Rows.Sum(row => (long)row.Terms.Count);
        using var parameters = new MPSolverParameters();
        parameters.SetDoubleParam(MPSolverParameters.DoubleParam.RELATIVE_MIP_GAP, relativeGap);
        if (!relax)
        {
            solver.SetSolverSpecificParametersAsString(FormattableString.Invariant($"{ScipSettings}\nlimits/totalnodes = {WorkClock.NodesIn(limit!.Value, terms)}"));
        }

        var result = solver.Solve(parameters);
        if (relax)
        {
            work.Relaxed(solver.Iterations(), program.Rows.Count);
        }
        else
        {
            work.Searched(solver.Iterations(), terms);
        }

        var status = result switch
        {
            Solver.ResultStatus.OPTIMAL => ProgramStatus.Optimal,
            Solver.ResultStatus.FEASIBLE => ProgramStatus.Feasible,
            Solver.ResultStatus.INFEASIBLE => ProgramStatus.Infeasible,
            _ => ProgramStatus.Unknown,
        };
        if (status is not (ProgramStatus.Optimal or ProgramStatus.Feasible))
        {
            return new ProgramAnswer(status, [], double.NaN, double.NegativeInfinity);
        }

        var values = new double[variables.Length];
        for (var i = 0; i < values.Length; i++)
        {
            var value = variables[i].SolutionValue();
            values[i] = program.Unknowns[i].IsInteger && !relax ? Math.Round(value) + 0.0 : value; // + 0.0: no minus zero
        }

        // Left to the finalizer, a hundred of them for each of thousands of programs cost more than the programs.
        foreach (var variable in variables)
        {
            variable.Dispose();
        }

        var best = objective.Value();
        return new ProgramAnswer(status, values, best, relax ? best : objective.BestBound());
    }

    // A machine without the native library shows it in one of three ways, depending on which part of the loader meets it first.
    private static Solver Create(string engine)
    {
        try
        {
            return Solver.CreateSolver(engine) ?? throw new SolverUnavailableException($"The solver {engine} is not part of this build of the solver library.", null);
        }
        catch (Exception cause) when (cause is DllNotFoundException or TypeInitializationException or BadImageFormatException or EntryPointNotFoundException)
        {
            throw new SolverUnavailableException(
                "The planner's native solver library cannot be loaded on this machine. Publish for this machine's own runtime identifier (for example linux-x64 or win-x64).", cause);
        }
    }
}

/// <summary>The native solver cannot be loaded; the message says what to do.</summary>
public sealed class SolverUnavailableException(string message, Exception? cause) : Exception(message, cause);
