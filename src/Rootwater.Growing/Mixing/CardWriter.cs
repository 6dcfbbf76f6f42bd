using System.Globalization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>Turns a verified can into its card: steps in the derived order with reasons, what the pens should read, who gets it.</summary>
internal sealed class CardWriter(PlanRequest request, CanChemistry chemistry)
{
    // Most of the acid goes in early and a fifth is kept for the trim: enough to put right a label that is 10 % off.
    private const double EarlyShare = 0.8;

    // Citrate and acetate above this are food enough for microbes to move the pH.
    private const double OrganicAcidMol = 1e-5;

    public CanPlan Write(PlannedCan planned, string letter, IReadOnlyDictionary<Guid, double> drawnAlready)
    {
        var (can, vessel, groups) = (planned.Can, planned.Vessel, planned.Groups);
        var (columns, contents, solved) = (can.Columns, can.Contents, can.Solved);
        var additions = Additions(can);
        var water = contents with { Steps = [.. contents.Steps.Select((steps, j) => columns[j].Kind == ColumnKind.Product ? 0 : steps)] };
        var order = new MixingOrder(chemistry, water.Totals(columns), additions);
        var sequence = order.Best();
        var steps = new List<MixStep>();
        var partial = new double[columns.Count];
        for (var j = 0; j < columns.Count; j++)
        {
            if (columns[j].Kind != ColumnKind.Product && contents.Steps[j] > 0)
            {
                partial[j] = contents.Steps[j];
                steps.Add(WaterStep(steps.Count + 1, columns[j], contents.Steps[j]));
            }
        }

        if (planned.FullerBecause is { } why && steps.Count > 0)
        {
            steps[0] = steps[0] with { Reason = $"{why}; {steps[0].Reason}" };
        }

        // The waters are one moment: what is in the can half full of rain tells nobody anything.
        steps = [.. steps.Select(step => Expect(step, columns, contents, partial, vessel))];
        foreach (var (index, place) in sequence.Select((index, place) => (index, place)))
        {
            var addition = additions[index];
            var column = columns[addition.Column];
            partial[addition.Column] += addition.Steps;
            var early = !addition.IsTrim && additions.Any(other => other.Column == addition.Column && other.IsTrim);
            var step = new MixStep
            {
                Number = steps.Count + 1,
                Kind = addition.IsTrim ? MixStepKind.Trim : early ? MixStepKind.EarlyAcid : MixStepKind.Product,
                What = column.Name,
                ProductId = request.Cupboard.Any(item => item.Product.Id == column.Id) ? column.Id : null,
                LotId = LotFor(column, contents.Steps[addition.Column], drawnAlready),
                Amount = Math.Round(addition.Steps * column.Step, 6),
                Unit = column.Unit,
                Reason = Reason(order, sequence, place, additions, columns, early),
                Cautions = SafetyTexts.ShortFor(column.Product!),
                EcMicrosiemensPerCm = default,
                PH = default,
                ClosestMineral = null,
                WorstSaturationIndex = null,
            };
            steps.Add(Expect(step, columns, contents, partial, vessel));
        }

        var worst = order.WorstOf(sequence);
        return new CanPlan
        {
            Id = planned.Id,
            Letter = letter,
            Vessel = vessel.Name,
            Litres = contents.Litres,
            Steps = steps,
            MolPerKgWater = solved.Totals,
            MgPerLitre = solved.MgPerLitre,
            EcMicrosiemensPerCm = Ec(solved, can.Spread, request.Tools),
            EcOnPenMicrosiemensPerCm = OnPen(solved.Solution, request.Tools.EcPenCompensationPerCelsius),
            PH = PH(solved, can.Spread, request.Tools),
            PHAfterADay = CarbonDioxideExchange.After(solved.Totals, request.CarbonDioxideExchangePerHour, 24, request.Log10AirPCO2, new SolveConditions { Temperature = chemistry.Temperature }).Solution?.PH ?? double.NaN,
            PHInBalanceWithAir = CanChemistry.Run(solved.Totals, new SolveConditions { Temperature = chemistry.Temperature, Air = Air.Open(request.Log10AirPCO2) })?.PH ?? double.NaN,
            AlkalinityMilliequivalentsPerLitre = solved.Solution.AlkalinityMeqPerKgWater * chemistry.KgWaterPerLitre,
            BiuretMgPerLitre = BiuretCap.MgPerLitre(columns, contents),
            ClosestMineral = worst.Mineral?.ToString() ?? solved.Closest?.Mineral.ToString(),
            WorstSaturationIndex = worst.Mineral is null ? solved.Closest?.Index : worst.Index,
            Serves = [.. groups.Select(group => Serve(group, can))],
            Cost = CostOf(can),
            TemperatureCelsius = chemistry.Temperature.Celsius,
            Limits = CanGoal.Strictest(groups.Select(group => group.Want.Limits)),
            AgeLimit = AgeLimitOf(solved),
        };
    }

    /// <summary>EC that a pen with a fixed compensation shows of a solution at its own temperature.</summary>
    public static double OnPen(Solution solution, double compensationPerCelsius) =>
        solution.ConductivityMicrosiemensPerCm / (1 + compensationPerCelsius * (solution.Conditions.Temperature.Celsius - 25));

    /// <summary>What goes into a can costs.</summary>
    public static decimal CostOf(VerifiedCan can) => (decimal)Math.Round(can.Columns.Select((column, j) => column.CostPerStep * can.Contents.Steps[j]).Sum(), 4);

    /// <summary>How one group's bands come out in a can.</summary>
    public static ServedGroup Serve(WantGroup group, VerifiedCan can) => new(
        group.Name,
        [.. group.Portions.OrderBy(portion => portion.WalkOrder)],
        [.. CanGoal.GoalsOf(group).Select(goal => Result(goal.Measure, goal.Band, can))]);

    /// <summary>How one band comes out in a can.</summary>
    public static BandResult Result(Measure measure, Band band, VerifiedCan can)
    {
        var (what, unit) = CanGoal.Words(measure);
        var value = CanGoal.Value(measure, can.Solved);
        var error = ErrorSpread.Interval * measure.Kind switch
        {
            MeasureKind.Ec => can.Spread.EcSd,
            MeasureKind.ProtonsShort => can.Spread.PHSd,
            MeasureKind.TotalNitrogen => can.Spread.Sd(mg => mg.TotalNitrogen),
            _ => can.Spread.Sd(mg => mg[(Nutrient)measure.Index]),
        };
        return new BandResult(what, unit, band, value, Math.Max(0, value - error), value + error);
    }

    private List<Addition> Additions(VerifiedCan can)
    {
        var (columns, contents) = (can.Columns, can.Contents);
        var trimmer = Enumerable.Range(0, columns.Count)
            .Where(j => contents.Steps[j] > 0 && columns[j].Product is { Kind: ProductKind.Acid or ProductKind.Base, IsLiquid: true })
            .OrderByDescending(j => Math.Abs(columns[j].MolPerStep[Component.Hydrogen]) * contents.Steps[j]).Cast<int?>().FirstOrDefault();
        var additions = new List<Addition>();
        for (var j = 0; j < columns.Count; j++)
        {
            if (columns[j].Kind != ColumnKind.Product || contents.Steps[j] <= 0)
            {
                continue;
            }

            var perStep = columns[j].MolPerStep.Scaled(1 / CanContents.Divisor(columns[j], contents.Litres, contents.KgWaterPerLitre));
            var early = j == trimmer ? Math.Floor(EarlyShare * contents.Steps[j]) : contents.Steps[j];
            if (early > 0)
            {
                additions.Add(new Addition(j, early, perStep.Scaled(early)));
            }

            if (contents.Steps[j] > early)
            {
                additions.Add(new Addition(j, contents.Steps[j] - early, perStep.Scaled(contents.Steps[j] - early), IsTrim: true));
            }
        }

        return additions;
    }

    private static MixStep WaterStep(int number, Column column, double steps)
    {
        var alkalinity = column.Water is { } water && CanChemistry.Run(water.MolPerKgWater, SolveConditions.Default) is { } solution ? solution.AlkalinityMeqPerKgWater : (double?)null;
        return new MixStep
        {
            Number = number,
            Kind = column.Kind == ColumnKind.Leftover ? MixStepKind.Leftover : MixStepKind.Water,
            What = column.Name,
            WaterId = column.Kind == ColumnKind.Water ? column.Id : null,
            FromCanId = column.Kind == ColumnKind.Leftover ? column.Id : null,
            Amount = Math.Round(steps * column.Step, 6),
            Unit = "L",
            Reason = column.Kind == ColumnKind.Leftover
                ? "taken from that can, which saves weighing what is already in it"
                : string.Create(CultureInfo.InvariantCulture, $"brings {alkalinity ?? 0:0.0} meq/L of alkalinity; hold a little back to rinse with and fill to the mark at the end"),
            EcMicrosiemensPerCm = default,
            PH = default,
            ClosestMineral = null,
            WorstSaturationIndex = null,
        };
    }

    private MixStep Expect(MixStep step, IReadOnlyList<Column> columns, CanContents contents, double[] partial, Vessel vessel)
    {
        var sofar = contents with { Steps = [.. partial] };
        if (chemistry.Solve(sofar.Totals(columns)) is not { } solved)
        {
            return step with { EcMicrosiemensPerCm = new(0, double.NaN, double.NaN), PH = new(0, double.NaN, 14) };
        }

        var spread = ErrorSpread.Of(chemistry, solved, sofar, columns, vessel.RelativeVolumeError, oneSided: true);
        return step with
        {
            EcMicrosiemensPerCm = Ec(solved, spread, request.Tools),
            PH = PH(solved, spread, request.Tools),
            ClosestMineral = solved.Closest?.Mineral.ToString(),
            WorstSaturationIndex = solved.Closest?.Index,
        };
    }

    /// <summary>EC at 25 °C with the errors of mixing and of the pen, 95 %.</summary>
    public static Expected Ec(SolvedCan can, ErrorSpread spread, Tools tools)
    {
        var value = can.EcMicrosiemensPerCm;
        var error = ErrorSpread.Interval * Math.Sqrt(spread.EcSd * spread.EcSd + Math.Pow(tools.EcPenRelativeError * value, 2));
        return new Expected(Math.Max(0, value - error), value, value + error);
    }

    /// <summary>pH with the errors of mixing and of the pen, 95 %.</summary>
    public static Expected PH(SolvedCan can, ErrorSpread spread, Tools tools)
    {
        var error = ErrorSpread.Interval * Math.Sqrt(spread.PHSd * spread.PHSd + tools.PHPenError * tools.PHPenError);
        return new Expected(Math.Max(0, can.PH - error), can.PH, Math.Min(14, can.PH + error));
    }

    // Every reason is a comparison that was computed: the same order with this addition elsewhere.
    private static string Reason(MixingOrder order, IReadOnlyList<int> sequence, int place, IReadOnlyList<Addition> additions, IReadOnlyList<Column> columns, bool early)
    {
        var index = sequence[place];
        if (additions[index].IsTrim)
        {
            return "last, in sips, when all else has had its say on the pH; wait five minutes before the pen";
        }

        var free = sequence.Count(i => !additions[i].IsTrim);
        if (free == 1)
        {
            return early ? "most of it now, the rest to trim" : "the only thing to add";
        }

        var here = Moment.Worse(order.WorstOf(sequence), order.WorstPlumeOf(sequence));
        var first = Elsewhere(0);
        var last = Elsewhere(free - 1);
        var start = early ? "most of it now, the rest to trim: " : "";
        if (last.Index > here.Index + 0.05 && last.Index >= first.Index)
        {
            return start + Text($"before the rest: going in last, it would bring {Words(last)} to {Signed(last.Index)} where it falls in, against {Signed(here.Index)} in this order");
        }

        if (first.Index > here.Index + 0.05)
        {
            return start + Text($"after {columns[additions[sequence[place - 1]].Column].Name}: going in first, the worst moment would be {Words(first)} at {Signed(first.Index)}, against {Signed(here.Index)} in this order");
        }

        return start + Text($"its place changes the worst moment by less than 0.05 ({Words(here)} {Signed(here.Index)})");

        Moment Elsewhere(int to)
        {
            var moved = sequence.Where(i => i != index).ToList();
            moved.Insert(to, index);
            return Moment.Worse(order.WorstOf(moved), order.WorstPlumeOf(moved));
        }
    }

    private static string Words(Moment moment) => moment.Mineral is { } mineral ? mineral.ToString().ToLowerInvariant() : "no mineral";

    private static string Signed(double value) => double.IsFinite(value) ? value.ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture) : "far below";

    private static string Text(FormattableString text) => FormattableString.Invariant(text);

    private static Guid? LotFor(Column column, double steps, IReadOnlyDictionary<Guid, double> drawnAlready)
    {
        var needed = steps * column.Step * column.GramsPerUnit;
        var enough = column.Lots.FirstOrDefault(lot => lot.GramsLeft - drawnAlready.GetValueOrDefault(lot.Id) >= needed);
        return (enough ?? (column.Lots.Count > 0 ? column.Lots[0] : null))?.Id;
    }

    /// <summary>Days after which a can with an organic acid in it should not be poured (common practice, no source).</summary>
    public const double OrganicAcidDays = 2;

    public static bool HoldsOrganicAcid(ComponentAmounts totals) => totals[Component.Citrate] > OrganicAcidMol || totals[Component.Acetate] > OrganicAcidMol;

    public static AgeLimit? AgeLimitOf(SolvedCan can) => HoldsOrganicAcid(can.Totals)
        ? new AgeLimit(OrganicAcidDays, "microbes eat citric and acetic acid within days and the pH goes back up (common practice, no source)")
        : null;
}
