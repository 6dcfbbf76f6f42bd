using Rootwater.Growing.Mixing.Solvers;

namespace Rootwater.Growing.Mixing;

/// <summary>
/// The relaxed can of one litre for any goals, on fixed straight lines: fractions of steps, no supplies, no tie-breaks. Sharing asks for thousands of them.
/// </summary>
internal sealed class RelaxedProgram
{
    private readonly IReadOnlyList<Column> _columns;
    private readonly Linearisation _line;
    private readonly Dictionary<Measure, List<(int Column, double Slope)>> _slopes = [];

    /// <param name="columns">What can go in.</param>
    /// <param name="kgWaterPerLitre">Of the finished can.</param>
    /// <param name="line">The chemistry as straight lines.</param>
    public RelaxedProgram(IReadOnlyList<Column> columns, double kgWaterPerLitre, Linearisation line)
    {
        (_columns, _line) = (columns, line);
        foreach (var (measure, each) in line.Measures)
        {
            _slopes[measure] = [.. Enumerable.Range(0, columns.Count)
                .Select(j => (Column: j, Slope: each.Slope(columns[j].MolPerStep) / CanContents.Divisor(columns[j], 1, kgWaterPerLitre)))
                .Where(term => Math.Abs(term.Slope) > 1e-12)];
        }
    }

    /// <summary>The best fractions of steps; null where the hard limits leave none.</summary>
    public Doses? Relax(CanGoal goal, WorkClock work)
    {
        var program = new IntegerProgram();
        foreach (var column in _columns)
        {
            program.Add(0, column.Kind == ColumnKind.Product ? CanModel.MostGramsPerLitre / (column.Step * column.GramsPerUnit) : 1 / column.Step);
        }

        program.AddRow(1, 1, [.. Enumerable.Range(0, _columns.Count).Where(j => _columns[j].Kind != ColumnKind.Product).Select(j => (j, _columns[j].Step))]);
        AddLimits(program, goal.Limits);
        var least = KinkedLine.Of(goal, _line).Sum(line => line.AddTo(program, _line.Measures[line.Measure].Constant, _slopes[line.Measure]));
        var answer = ProgramSolver.Relax(program, work);
        return answer.HasPoint ? new Doses([.. answer.Values.Take(_columns.Count)], answer.Objective + least, answer.Bound + least, true) : null;
    }

    private void AddLimits(IntegerProgram program, HardLimits limits)
    {
        foreach (var limit in HardLimit.All(limits))
        {
            if (limit.ShareOfNitrogen is null)
            {
                program.AddRow(double.NegativeInfinity, limit.Limit - _line.Measures[limit.Measure].Constant, _slopes[limit.Measure]);
                continue;
            }

            var share = new double[_columns.Count];
            foreach (var (j, slope) in _slopes[limit.Measure])
            {
                share[j] += slope;
            }

            foreach (var (j, slope) in _slopes[new Measure(MeasureKind.TotalNitrogen)])
            {
                share[j] -= limit.Limit * slope;
            }

            program.AddRow(double.NegativeInfinity, 0, [.. Enumerable.Range(0, share.Length).Where(j => share[j] != 0).Select(j => (j, share[j]))]);
        }
    }
}
