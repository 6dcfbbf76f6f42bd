using Rootwater.Chemistry.Formulas;

namespace Rootwater.Growing.Labels;

/// <summary>One nutrient as a label declares it, with what rounding hides and how it is chelated.</summary>
/// <param name="MgPerKg">Element per kilogram of product.</param>
/// <param name="RoundingMgPerKg">Half of the last printed digit.</param>
/// <param name="ChelatedMgPerKg">How much of it each chelator holds; empty when none is declared.</param>
public sealed record DeclaredAmount(double MgPerKg, double RoundingMgPerKg, IReadOnlyDictionary<Chelator, double> ChelatedMgPerKg);

/// <summary>A label's declarations as elements per kilogram, parts counted inside their totals.</summary>
public sealed record LabelContents
{
    private LabelContents(IReadOnlyDictionary<Nutrient, DeclaredAmount> declared, double totalNitrogenMgPerKg, double totalNitrogenRoundingMgPerKg)
    {
        Declared = declared;
        TotalNitrogenMgPerKg = totalNitrogenMgPerKg;
        TotalNitrogenRoundingMgPerKg = totalNitrogenRoundingMgPerKg;
        MgPerKg = NutrientAmounts.From(declared.Select(pair => (pair.Key, pair.Value.MgPerKg)));
        UnspecifiedNitrogenMgPerKg = Math.Max(0, totalNitrogenMgPerKg - MgPerKg.TotalNitrogen);
        if (UnspecifiedNitrogenMgPerKg <= totalNitrogenRoundingMgPerKg * 2 && MgPerKg.TotalNitrogen > 0)
        {
            UnspecifiedNitrogenMgPerKg = 0;
        }
    }

    /// <summary>The nutrients it names, each in the form it names.</summary>
    public IReadOnlyDictionary<Nutrient, DeclaredAmount> Declared { get; }

    /// <summary>The named nutrients; nitrogen of unsaid form is not in it.</summary>
    public NutrientAmounts MgPerKg { get; }

    public double TotalNitrogenMgPerKg { get; }

    public double TotalNitrogenRoundingMgPerKg { get; }

    /// <summary>Nitrogen declared only in the total: nitrate, ammonium or urea, the label does not say.</summary>
    public double UnspecifiedNitrogenMgPerKg { get; }

    internal static LabelContents Of(Label label)
    {
        var mgPerKgInPercent = MgPerKgInPercent(label);
        var declared = new Dictionary<Nutrient, DeclaredAmount>();
        foreach (var group in label.Declarations.Where(line => line.Form.CountsAs() is not null).GroupBy(line => line.Form.CountsAs()!.Value))
        {
            declared[group.Key] = Combine([.. group], mgPerKgInPercent);
        }

        var parts = declared.Where(pair => IsNitrogen(pair.Key)).ToList();
        var totals = label.Declarations.Where(line => line.Form == DeclaredForm.TotalNitrogen).ToList();
        var total = totals.Count > 0 ? totals.MinBy(line => line.RoundingPercent)! : null;
        return new LabelContents(
            declared,
            total is null ? parts.Sum(pair => pair.Value.MgPerKg) : total.Percent * mgPerKgInPercent,
            total is null ? parts.Sum(pair => pair.Value.RoundingMgPerKg) : total.RoundingPercent * mgPerKgInPercent);
    }

    internal static bool IsNitrogen(Nutrient nutrient) => nutrient is Nutrient.NitrateNitrogen or Nutrient.AmmoniumNitrogen or Nutrient.UreaNitrogen;

    private static double MgPerKgInPercent(Label label) => 1e4 / (label.Basis == LabelBasis.ByVolume ? label.DensityKgPerLitre!.Value : 1);

    // A line without a qualifier is the total of its nutrient; lines with one ("water-soluble", "chelated by EDTA") are parts of that total.
    // Without a total the parts are all there is. The same nutrient said as oxide and as element is one amount: the sharper line is taken.
    private static DeclaredAmount Combine(IReadOnlyList<Declaration> lines, double mgPerKgInPercent)
    {
        double MgPerKg(Declaration line) => line.Percent * line.Form.ElementFraction() * mgPerKgInPercent;
        double Rounding(Declaration line) => line.RoundingPercent * line.Form.ElementFraction() * mgPerKgInPercent;

        var totals = lines.Where(line => line is { WaterSoluble: false, Chelator: Chelator.None }).ToList();
        var soluble = lines.Where(line => line is { WaterSoluble: true, Chelator: Chelator.None }).ToList();
        var chelated = lines.Where(line => line.Chelator != Chelator.None).ToList();
        var chelatedAmounts = chelated.GroupBy(line => line.Chelator).ToDictionary(group => group.Key, group => group.Sum(MgPerKg));
        if (totals.Count == 0)
        {
            totals = soluble;
        }

        if (totals.Count > 0)
        {
            var sharpest = totals.MinBy(Rounding)!;
            return new DeclaredAmount(MgPerKg(sharpest), Rounding(sharpest), chelatedAmounts);
        }

        return new DeclaredAmount(chelated.Sum(MgPerKg), chelated.Sum(Rounding), chelatedAmounts);
    }

    /// <summary>
    /// The least a kilogram of product must weigh to carry what it declares, in kg: every nutrient as the lightest thing it can be in a
    /// fertilizer (NO3, NH4, urea, P2O5, K, Ca, Mg, SO4, Cl, Na, SiO2, metals, boron as B), and what charge is then missing made up by
    /// oxide (8 g/eq) or hydrogen (1 g/eq).
    /// </summary>
    /// <remarks>Nitrogen of unsaid form counts as ammonia less its charge, the lightest there is. Phosphorus counts as P2O5 and takes no part in the charge sum.</remarks>
    public double LeastKgPerKg()
    {
        double kg = 0, equivalents = 0;
        void Add(Nutrient nutrient, double gramsPerGram, double gramsPerEquivalent = 0, int sign = 0)
        {
            var grams = MgPerKg[nutrient] / 1000;
            kg += grams * gramsPerGram / 1000;
            equivalents += sign == 0 ? 0 : sign * grams / gramsPerEquivalent;
        }

        Add(Nutrient.NitrateNitrogen, Rest("KNO3", "K") / Part("KNO3", "N"), Part("KNO3", "N"), -1);
        Add(Nutrient.AmmoniumNitrogen, Rest("NH4Cl", "Cl") / Part("NH4Cl", "N"), Part("NH4Cl", "N"), +1);
        Add(Nutrient.UreaNitrogen, 1 / Formula.Parse("CO(NH2)2").MassFraction("N"));
        Add(Nutrient.Phosphorus, 1 / DeclaredForm.PhosphorusPentoxide.ElementFraction());
        Add(Nutrient.Potassium, 1, Part("KCl", "K"), +1);
        Add(Nutrient.Calcium, 1, Part("CaCl2", "Ca") / 2, +1);
        Add(Nutrient.Magnesium, 1, Part("MgCl2", "Mg") / 2, +1);
        Add(Nutrient.Sulfur, Rest("K2SO4", "K") / Part("K2SO4", "S"), Part("K2SO4", "S") / 2, -1);
        Add(Nutrient.Sodium, 1, Part("NaCl", "Na"), +1);
        Add(Nutrient.Chloride, 1, Part("KCl", "Cl"), -1);
        Add(Nutrient.Silicon, 1 / DeclaredForm.SiliconDioxide.ElementFraction());
        foreach (var trace in (ReadOnlySpan<Nutrient>)[Nutrient.Iron, Nutrient.Manganese, Nutrient.Zinc, Nutrient.Copper, Nutrient.Boron, Nutrient.Molybdenum])
        {
            Add(trace, 1);
        }

        kg += UnspecifiedNitrogenMgPerKg / 1e6 / Formula.Parse("NH3").MassFraction("N");
        var gramsPerOxideEquivalent = Part("CaO", "O") / 2;
        var gramsPerHydrogenEquivalent = Part("HCl", "H");
        return kg + (equivalents > 0 ? equivalents * gramsPerOxideEquivalent : -equivalents * gramsPerHydrogenEquivalent) / 1000;
    }

    /// <summary>Grams of all atoms of one element in a mole of the salt.</summary>
    private static double Part(string salt, string element) => Formula.Parse(salt).GramsPerMole * Formula.Parse(salt).MassFraction(element);

    /// <summary>Grams in a mole of the salt without the element.</summary>
    private static double Rest(string salt, string element) => Formula.Parse(salt).GramsPerMole - Part(salt, element);
}
