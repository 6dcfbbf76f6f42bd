using CsCheck;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Solvers;

namespace Rootwater.Growing.Tests.Mixing;

/// <summary>The relaxed can with one kinked line for each measure, against the obvious program: an unknown and two rows for each band's distance and each band's outside.</summary>
public sealed class RelaxedProgramTests
{
    private static readonly SupplyItem[] s_products =
    [
        Kitchen.CalciumNitrate, Kitchen.PotassiumNitrate, Kitchen.MonopotassiumPhosphate, Kitchen.MagnesiumSulfate, Kitchen.AmmoniumNitrate, Kitchen.Urea,
        Kitchen.CalciumChloride, Kitchen.PhosphoricAcid, Kitchen.PotassiumHydroxide, Kitchen.PotassiumSilicate,
    ];

    private static readonly Gen<PlanRequest> s_request =
        from picks in Gen.Int[0, s_products.Length - 1].HashSet[1, 8]
        from nitrogen in Gen.Double[5, 160].Array[1, 6]
        from pour in Gen.Double[4.5, 6.8].Array[6]
        select Kitchen.Request(
            [.. nitrogen.Select((each, i) => Kitchen.Group($"group {i + 1}", Kitchen.Want(each, 60 + 8 * each), plants: 2 + i, pourPH: new Band(pour[i] - 0.3, pour[i], pour[i] + 0.4), firstNumber: 1 + 10 * i))],
            cupboard: [.. picks.Select(i => s_products[i])]);

    [Fact]
    public void A_kinked_line_for_each_measure_costs_what_a_row_for_each_side_of_each_band_does()
    {
        var (compared, without) = (0, 0);
        foreach (var request in FixedDraws.Of(s_request, 120, seed: 20261127))
        {
            var chemistry = new CanChemistry(request.CanTemperature);
            var columns = Columns.Of(request);
            var plants = (double)request.Groups.Sum(group => group.Portions.Count);
            var goal = CanGoal.For([.. request.Groups.Select(group => (group, group.Portions.Count / plants))]);
            var line = chemistry.Linearise(Assignment.Guess(goal, chemistry.KgWaterPerLitre), goal.WorkingPH, goal.PHLevels, CanOptimiser.Movable(columns)).ShouldNotBeNull();

            var doses = new RelaxedProgram(columns, chemistry.KgWaterPerLitre, line).Relax(goal, chemistry.Work);
            var obvious = Obvious(columns, goal, chemistry.KgWaterPerLitre, line, chemistry.Work);

            (doses is null).ShouldBe(!obvious.HasPoint);
            without += doses is null ? 1 : 0;
            if (doses is not null)
            {
                compared++;
                doses.Objective.ShouldBe(obvious.Objective, 1e-5 * Math.Max(1, obvious.Objective));

                // What the doses themselves cost on the lines, band by band, is what the program said.
                var totals = new CanContents(1, chemistry.KgWaterPerLitre, doses.Steps).Totals(columns);
                var minerals = line.Measures.Where(each => each.Key.Kind == MeasureKind.Saturation).Sum(each => PlanWeights.Saturation * Math.Max(0, each.Value.At(totals) + CanModel.SaturationMargin));
                (goal.Goals.Sum(each => line.Penalty(each, totals)) + minerals).ShouldBe(doses.Objective, 1e-5 * Math.Max(1, doses.Objective));
            }
        }

        TestContext.Current.TestOutputHelper!.WriteLine($"{compared} cans compared, {without} without a point in either");
        compared.ShouldBeGreaterThan(80);
    }

    private static ProgramAnswer Obvious(IReadOnlyList<Column> columns, CanGoal goal, double kgWaterPerLitre, Linearisation line, WorkClock work)
    {
        var program = new IntegerProgram();
        var values = new Dictionary<Measure, int>();
        foreach (var column in columns)
        {
            program.Add(0, column.Kind == ColumnKind.Product ? CanModel.MostGramsPerLitre / (column.Step * column.GramsPerUnit) : 1 / column.Step);
        }

        program.AddRow(1, 1, [.. Enumerable.Range(0, columns.Count).Where(j => columns[j].IsLiquidVolume).Select(j => (j, columns[j].Step))]);
        foreach (var limit in HardLimit.All(goal.Limits))
        {
            program.AddRow(double.NegativeInfinity, limit.ShareOfNitrogen is null ? limit.Limit : 0, limit.ShareOfNitrogen is null ? [(Value(limit.Measure), 1)] : [(Value(limit.Measure), 1), (Value(new Measure(MeasureKind.TotalNitrogen)), -limit.Limit)]);
        }

        foreach (var each in goal.Goals)
        {
            var (deviation, outside) = (program.Add(0, double.PositiveInfinity, each.Weight), program.Add(0, double.PositiveInfinity, each.Weight * PlanWeights.OutsideFactor));
            if (each.IsPH)
            {
                var (below, above) = line.ProtonWidths(each);
                AtLeast(deviation, Level(each.Band.Ideal), 1 / above, 0);
                AtLeast(deviation, Level(each.Band.Ideal), -1 / below, 0);
                AtLeast(outside, Level(each.Band.High), 1 / above, 0);
                AtLeast(outside, Level(each.Band.Low), -1 / below, 0);
                continue;
            }

            AtLeast(deviation, Value(each.Measure), 1 / each.WidthAbove, -each.Band.Ideal / each.WidthAbove);
            AtLeast(deviation, Value(each.Measure), -1 / each.WidthBelow, each.Band.Ideal / each.WidthBelow);
            AtLeast(outside, Value(each.Measure), 1 / each.WidthAbove, -each.Band.High / each.WidthAbove);
            AtLeast(outside, Value(each.Measure), -1 / each.WidthBelow, each.Band.Low / each.WidthBelow);
        }

        foreach (var measure in line.Measures.Keys.Where(measure => measure.Kind == MeasureKind.Saturation))
        {
            AtLeast(program.Add(0, double.PositiveInfinity, PlanWeights.Saturation * goal.Share), Value(measure), 1, CanModel.SaturationMargin);
        }

        return ProgramSolver.Relax(program, work);

        int Level(double level) => Value(new Measure(MeasureKind.ProtonsShort, 0, level));

        void AtLeast(int unknown, int value, double slope, double constant) => program.AddRow(constant, double.PositiveInfinity, [(unknown, 1), (value, -slope)]);

        int Value(Measure measure)
        {
            if (!values.TryGetValue(measure, out var known))
            {
                known = values[measure] = program.Add(double.NegativeInfinity, double.PositiveInfinity);
                program.AddRow(-line.Measures[measure].Constant, -line.Measures[measure].Constant,
                    [(known, -1), .. columns.Select((column, j) => (j, line.Measures[measure].Slope(column.MolPerStep) / CanContents.Divisor(column, 1, kgWaterPerLitre)))]);
            }

            return known;
        }
    }
}
