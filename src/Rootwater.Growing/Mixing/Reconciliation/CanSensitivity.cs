using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Quantities;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing.Reconciliation;

/// <summary>What one source does to what the pens read in one can, for one unit of it.</summary>
/// <param name="Source">Which.</param>
/// <param name="PriorSd">How wrong it may be before anything was measured, in its unit.</param>
/// <param name="LnEc">Change of ln EC per unit.</param>
/// <param name="PH">Change of pH per unit.</param>
/// <param name="WanderSd">How far it wanders in a month, in its unit.</param>
internal sealed record Effect(ErrorSource Source, double PriorSd, double LnEc, double PH, double WanderSd);

/// <summary>What a can should read, and how each source of error would show in it: differences through the full chemistry.</summary>
internal sealed class CanSensitivity
{
    private const double Step = 0.01;
    private readonly SolveConditions _closed;
    private readonly double _kgPerLitre;
    private readonly CanRecord _can;
    private readonly ComponentAmounts _totals;

    /// <param name="can">The can.</param>
    /// <param name="spreads">What may be wrong.</param>
    /// <param name="believed">What is believed of each source: the slopes are taken there, since a pH is anything but a straight line.</param>
    public CanSensitivity(CanRecord can, ErrorSpreads spreads, Func<ErrorSourceKind, string, double> believed)
    {
        _can = can;
        _closed = new SolveConditions { Temperature = Temperature.FromCelsius(can.Celsius) };
        _kgPerLitre = 1 / EquilibriumSolver.Solve(ComponentAmounts.Zero, _closed).Required().LitresPerKgWater;
        var waters = can.Waters.Sum(water => water.Litres);
        _totals = can.Waters.Aggregate(ComponentAmounts.Zero, (sum, water) => sum.PlusScaled(water.MolPerKgWater, water.Litres / waters));
        _totals = can.Doses.Aggregate(_totals, (sum, dose) => sum.PlusScaled(dose.MolPerKg, MolFactor(dose)));
        (LnEc, PH) = Read(_totals);
        _totals = Believed(believed, waters);
        (BelievedLnEc, BelievedPH) = Read(_totals);
        Effects = [.. All(spreads, waters)];
        (FillLnEc, FillPH) = Shift(AllDoses(), -Step, Step);
    }

    /// <summary>What perfect pens should read by the card: ln of µS/cm at 25 °C.</summary>
    public double LnEc { get; }

    public double PH { get; }

    /// <summary>What they should read by what is believed of lots, tools, waters and vessel.</summary>
    public double BelievedLnEc { get; }

    public double BelievedPH { get; }

    public IReadOnlyList<Effect> Effects { get; }

    /// <summary>What a can filled higher by its whole would read; for the scatter of the fill.</summary>
    public double FillLnEc { get; }
    public double FillPH { get; }

    /// <summary>What one dose does as a whole, per unit of itself.</summary>
    public (double LnEc, double PH) OfDose(CanDose dose, double share) => Difference(_totals.PlusScaled(dose.MolPerKg, share * MolFactor(dose)));

    /// <summary>What one day open to the air does to the pH at most: in balance with outdoor air.</summary>
    public double PHInAir() => (EquilibriumSolver.Solve(_totals, _closed with { Air = Air.Open(-3.4) }).Solution?.PH ?? BelievedPH) - BelievedPH;

    private ComponentAmounts Believed(Func<ErrorSourceKind, string, double> believed, double waters)
    {
        var volume = 1 + believed(ErrorSourceKind.Vessel, _can.VesselId);
        var totals = ComponentAmounts.Zero;
        foreach (var water in _can.Waters)
        {
            var share = water.Litres / waters;
            totals = totals.PlusScaled(water.MolPerKgWater, share * (1 + believed(ErrorSourceKind.WaterStrength, water.WaterId)))
                .PlusScaled(s_bicarbonate, share * believed(ErrorSourceKind.WaterAlkalinity, water.WaterId));
        }

        foreach (var dose in _can.Doses)
        {
            var lot = dose.LotId.ToString();
            var strength = believed(ErrorSourceKind.LotStrength, lot) + believed(dose.ByVolume ? ErrorSourceKind.Syringe : ErrorSourceKind.Scale, dose.ToolId);
            totals = totals.PlusScaled(dose.MolPerKg, MolFactor(dose) * (1 + strength) / volume);
            if (believed(ErrorSourceKind.LotAcidity, lot) is var acid && acid != 0)
            {
                totals = totals.PlusScaled(s_proton, acid * AcidityPerGram(dose) * dose.Grams / (_can.Litres * _kgPerLitre));
            }
        }

        return totals;
    }

    private static readonly ComponentAmounts s_proton = ComponentAmounts.Zero.With(Component.Hydrogen, 1);

    // One meq/L of alkalinity.
    private static readonly ComponentAmounts s_bicarbonate = ComponentAmounts.From((Component.Sodium, 1e-3), (Component.Carbonate, 1e-3), (Component.Hydrogen, 1e-3));

    private double MolFactor(CanDose dose) => dose.Grams / 1000 / (_can.Litres * _kgPerLitre);

    private ComponentAmounts AllDoses() => _can.Doses.Aggregate(ComponentAmounts.Zero, (sum, dose) => sum.PlusScaled(dose.MolPerKg, MolFactor(dose)));

    private IEnumerable<Effect> All(ErrorSpreads spreads, double waters)
    {
        Effect Make(ErrorSourceKind kind, string id, string name, double sd, (double LnEc, double PH) shift, bool hygroscopic = false) =>
            new(new ErrorSource(kind, id, name), sd, shift.LnEc, shift.PH, sd * spreads.WanderPerMonth(kind, hygroscopic));

        foreach (var lot in _can.Doses.GroupBy(dose => dose.LotId))
        {
            var dose = lot.First();
            var brings = lot.Aggregate(ComponentAmounts.Zero, (sum, each) => sum.PlusScaled(each.MolPerKg, MolFactor(each)));
            yield return Make(ErrorSourceKind.LotStrength, lot.Key.ToString(), dose.Name, dose.Hygroscopic ? Math.Max(0.03, dose.RelativeUncertainty) : dose.RelativeUncertainty, Shift(brings, Step, Step), dose.Hygroscopic);
            if (dose.PHUncertainty > 0)
            {
                var acid = s_proton.Scaled(AcidityPerGram(dose) * lot.Sum(each => each.Grams) / (_can.Litres * _kgPerLitre));
                yield return Make(ErrorSourceKind.LotAcidity, lot.Key.ToString(), dose.Name, 1, Shift(acid, 1, 1));
            }
        }

        foreach (var tool in _can.Doses.GroupBy(dose => (dose.ToolId, dose.ByVolume)))
        {
            var brings = tool.Aggregate(ComponentAmounts.Zero, (sum, dose) => sum.PlusScaled(dose.MolPerKg, MolFactor(dose)));
            yield return Make(tool.Key.ByVolume ? ErrorSourceKind.Syringe : ErrorSourceKind.Scale, tool.Key.ToolId, tool.Key.ToolId, tool.Key.ByVolume ? spreads.Syringe : spreads.Scale, Shift(brings, Step, Step));
        }

        foreach (var water in _can.Waters)
        {
            var share = water.Litres / waters;
            yield return Make(ErrorSourceKind.WaterStrength, water.WaterId, water.Name, water.RelativeUncertainty, Shift(water.MolPerKgWater.Scaled(share), Step, Step));
            yield return Make(ErrorSourceKind.WaterAlkalinity, water.WaterId, water.Name, spreads.WaterAlkalinityMeqPerLitre, Shift(s_bicarbonate.Scaled(share), 0.02, 0.02));
        }

        yield return Make(ErrorSourceKind.Vessel, _can.VesselId, _can.VesselId, spreads.Vessel, Shift(AllDoses(), -Step, Step));
        yield return Make(ErrorSourceKind.EcPen, _can.EcPenId, _can.EcPenName ?? _can.EcPenId, spreads.EcPen, (1, 0));
        yield return Make(ErrorSourceKind.PHPenOffset, _can.PHPenId, _can.PHPenName ?? _can.PHPenId, spreads.PHPenOffset, (0, 1));
        yield return Make(ErrorSourceKind.PHPenSlope, _can.PHPenId, _can.PHPenName ?? _can.PHPenId, spreads.PHPenSlope, (0, BelievedPH - 7));
    }

    /// <summary>Central difference for one unit: the totals moved by a step either way.</summary>
    private (double LnEc, double PH) Shift(ComponentAmounts by, double step, double unit)
    {
        var (up, down) = (Read(_totals.PlusScaled(by, step)), Read(_totals.PlusScaled(by, -step)));
        return ((up.LnEc - down.LnEc) / (2 * unit), (up.PH - down.PH) / (2 * unit));
    }

    private (double LnEc, double PH) Difference(ComponentAmounts totals)
    {
        var read = Read(totals);
        return (read.LnEc - BelievedLnEc, read.PH - BelievedPH);
    }

    private (double LnEc, double PH) Read(ComponentAmounts totals)
    {
        Span<double> floored = stackalloc double[ComponentAmounts.Count];
        for (var i = 0; i < floored.Length; i++)
        {
            floored[i] = (Component)i == Component.Hydrogen ? totals[(Component)i] : Math.Max(0, totals[(Component)i]);
        }

        var solution = EquilibriumSolver.Solve(ComponentAmounts.FromSpan(floored), _closed).Required();
        return (Math.Log(Math.Max(1e-3, solution.ConductivityAt25MicrosiemensPerCm())), solution.PH);
    }

    // Protons per gram that move a 1 g/L solution by the product's stated spread of pH, as the card's own bands count it.
    private static double AcidityPerGram(CanDose dose)
    {
        if (s_acidity.Count > 1000)
        {
            s_acidity.Clear();
        }

        return s_acidity.GetOrAdd((dose.MolPerKg, dose.PHUncertainty), static of => Acidity(of.MolPerKg, of.PHUncertainty));
    }

    // The same few products in can after can: three solves each, once.
    private static readonly System.Collections.Concurrent.ConcurrentDictionary<(ComponentAmounts MolPerKg, double PHUncertainty), double> s_acidity = [];

    private static double Acidity(ComponentAmounts molPerKg, double uncertainty)
    {
        var gram = molPerKg.Scaled(1e-3);
        if (EquilibriumSolver.Solve(gram, SolveConditions.Default).Solution is not { } here)
        {
            return 0;
        }

        var up = EquilibriumSolver.Solve(gram, SolveConditions.Default with { FixedPH = Math.Min(14, here.PH + uncertainty) }).Solution;
        var down = EquilibriumSolver.Solve(gram, SolveConditions.Default with { FixedPH = Math.Max(0, here.PH - uncertainty) }).Solution;
        return up is null || down is null ? 0 : Math.Abs(down.HydrogenMolPerKgWater - up.HydrogenMolPerKgWater) / 2;
    }
}
