using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing.Cupboard;

namespace Rootwater.Growing.Mixing;

/// <summary>
/// How the errors of scale, syringe, label, water and can volume carry through to what is in a can and what the pens read.
/// </summary>
/// <remarks>
/// Linear propagation: each independent source of error moves the totals by one standard deviation (<see cref="Moves"/>); nutrients follow
/// exactly, EC and pH by differences through the full solver (central for a finished can, one-sided for the moments while mixing); the effects add in quadrature. Intervals are 95 % (1.96 standard
/// deviations). A dose's measuring error and its label tolerance act in the same direction and are one source; the acidity that labels leave
/// open is another, and so is what they leave open of the EC; a completed water brings the doubts of its ions, neutral each; where only one figure is known of a water, it is taken to be wrong by one
/// common factor, which keeps it neutral too.
/// </remarks>
internal sealed class ErrorSpread
{
    /// <summary>Standard deviations of a 95 % interval.</summary>
    public const double Interval = 1.96;

    private readonly IReadOnlyList<NutrientAmounts> _milligrams;
    private readonly CanChemistry _chemistry;
    private readonly SolvedCan _can;
    private readonly bool _oneSided;
    private readonly double _saltsEcVariance;
    private double _ecSd = double.NaN;
    private double _phSd = double.NaN;

    private ErrorSpread(CanChemistry chemistry, SolvedCan can, IReadOnlyList<ComponentAmounts> moves, double saltsEcVariance, bool oneSided)
    {
        (_chemistry, _can, Moves, _saltsEcVariance, _oneSided) = (chemistry, can, moves, saltsEcVariance, oneSided);
        _milligrams = [.. moves.Select(move => Nutrients.MilligramsIn(move.Scaled(chemistry.KgWaterPerLitre)))];
    }

    /// <summary>What one standard deviation of each source does to the totals, mol per kg of water.</summary>
    public IReadOnlyList<ComponentAmounts> Moves { get; }

    /// <summary>One standard deviation of any linear reading of the nutrients.</summary>
    public double Sd(Func<NutrientAmounts, double> of) => Math.Sqrt(_milligrams.Sum(mg => of(mg) * of(mg)));

    /// <summary>One standard deviation of the EC at 25 °C, µS/cm, without the pen's own.</summary>
    public double EcSd
    {
        get
        {
            Propagate();
            return _ecSd;
        }
    }

    /// <summary>One standard deviation of the pH, without the pen's own.</summary>
    public double PHSd
    {
        get
        {
            Propagate();
            return _phSd;
        }
    }

    public static ErrorSpread Of(CanChemistry chemistry, SolvedCan can, CanContents contents, IReadOnlyList<Column> columns, double relativeVolumeError, bool oneSided = false)
    {
        var moves = new List<ComponentAmounts>();
        var volume = ComponentAmounts.Zero;
        var (acidity, saltsEc) = (0.0, 0.0);
        var mainWater = MainWater(contents, columns);
        for (var j = 0; j < columns.Count; j++)
        {
            var (column, steps) = (columns[j], contents.Steps[j]);
            if (steps <= 0)
            {
                continue;
            }

            var brought = column.MolPerStep.Scaled(steps / CanContents.Divisor(column, contents.Litres, contents.KgWaterPerLitre));
            var measuring = column.MeasuringError / (steps * column.Step);
            if (column.Kind == ColumnKind.Product)
            {
                moves.Add(brought.Scaled(Math.Sqrt(measuring * measuring + column.RelativeUncertainty * column.RelativeUncertainty)));
                volume = volume.Plus(brought);
                var grams = steps * column.Step * column.GramsPerUnit / (contents.Litres * contents.KgWaterPerLitre);
                acidity += Math.Pow(grams * AcidityPerGram(column.Product!), 2);
                saltsEc += Math.Pow(grams * column.Product!.EcUncertaintyMicrosiemensPerCm, 2);
                continue;
            }

            if (column.Doubts.Count > 0)
            {
                moves.AddRange(column.Doubts.Select(doubt => doubt.Scaled(steps / CanContents.Divisor(column, contents.Litres, contents.KgWaterPerLitre))));
            }
            else
            {
                moves.Add(brought.Scaled(column.RelativeUncertainty));
            }

            if (j != mainWater)
            {
                // Too much of one water is too little of the main one.
                var main = columns[mainWater].MolPerStep.Scaled(1 / columns[mainWater].Step);
                var swap = column.MolPerStep.Scaled(1 / column.Step).PlusScaled(main, -1);
                moves.Add(swap.Scaled(column.MeasuringError / contents.Litres));
            }
        }

        moves.Add(volume.Scaled(-relativeVolumeError));
        if (acidity > 0)
        {
            moves.Add(ComponentAmounts.Zero.With(Component.Hydrogen, Math.Sqrt(acidity)));
        }

        return new ErrorSpread(chemistry, can, moves, saltsEc, oneSided);
    }

    private static int MainWater(CanContents contents, IReadOnlyList<Column> columns)
    {
        var main = 0;
        for (var j = 0; j < columns.Count; j++)
        {
            if (columns[j].IsLiquidVolume && contents.Steps[j] * columns[j].Step > contents.Steps[main] * columns[main].Step)
            {
                main = j;
            }
        }

        return main;
    }

    private void Propagate()
    {
        if (!double.IsNaN(_ecSd))
        {
            return;
        }

        var (ec, ph) = (_saltsEcVariance, 0.0);
        foreach (var move in Moves)
        {
            var up = _chemistry.Solve(Floor(_can.Totals.Plus(move)));
            var down = _oneSided ? _can : _chemistry.Solve(Floor(_can.Totals.PlusScaled(move, -1)));
            if (up is null || down is null)
            {
                // No answer is no small error: what cannot be computed must not pass as safe.
                (_ecSd, _phSd) = (double.PositiveInfinity, double.PositiveInfinity);
                return;
            }

            var half = _oneSided ? 1 : 0.5;
            ec += Math.Pow((up.EcMicrosiemensPerCm - down.EcMicrosiemensPerCm) * half, 2);
            ph += Math.Pow((up.PH - down.PH) * half, 2);
        }

        (_ecSd, _phSd) = (Math.Sqrt(ec), Math.Sqrt(ph));
    }

    // An error larger than the amount cannot take away more than there is.
    private static ComponentAmounts Floor(ComponentAmounts totals)
    {
        var amounts = totals.AsSpan().ToArray();
        for (var c = 0; c < amounts.Length; c++)
        {
            if (c != (int)Component.Hydrogen && amounts[c] < 0)
            {
                amounts[c] = 0;
            }
        }

        return ComponentAmounts.FromSpan(amounts);
    }

    private static readonly System.Runtime.CompilerServices.ConditionalWeakTable<Product, StrongBox> s_acidity = [];

    private sealed record StrongBox(double Value);

    // mol of protons per gram that move a 1 g/L solution of the product by its pH uncertainty: its buffering there, from two solves.
    private static double AcidityPerGram(Product product) => product.PHUncertainty <= 0
        ? 0
        : s_acidity.GetValue(product, each =>
        {
            var oneGram = each.MolPerKg.Scaled(1e-3);
            if (CanChemistry.Run(oneGram, SolveConditions.Default) is not { } here)
            {
                return new StrongBox(0);
            }

            var up = CanChemistry.Run(oneGram, SolveConditions.Default with { FixedPH = Math.Min(14, here.PH + each.PHUncertainty) });
            var down = CanChemistry.Run(oneGram, SolveConditions.Default with { FixedPH = Math.Max(0, here.PH - each.PHUncertainty) });
            return new StrongBox(up is null || down is null ? 0 : Math.Abs(down.HydrogenMolPerKgWater - up.HydrogenMolPerKgWater) / 2);
        }).Value;
}
