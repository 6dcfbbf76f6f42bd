using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

/// <summary>What is supposed where a report is silent: shares of the missing charge, and how calcium and magnesium split a hardness.</summary>
/// <remarks>
/// Shares of equivalents in a typical hard ground water (common practice, no source): cations Ca 0.55, Mg 0.18, Na 0.22, K 0.02; anions HCO3 0.6, Cl 0.2, SO4 0.17,
/// NO3 0.03. They only ever divide what charge balance and EC leave over.
/// </remarks>
internal sealed record WaterSupposition
{
    public double CalciumShareOfHardness { get; init; } = 0.75;
    public double Calcium { get; init; } = 0.55;
    public double Magnesium { get; init; } = 0.18;
    public double Sodium { get; init; } = 0.22;
    public double Potassium { get; init; } = 0.02;
    public double Alkalinity { get; init; } = 0.60;
    public double Chloride { get; init; } = 0.20;
    public double Sulfate { get; init; } = 0.17;
    public double Nitrate { get; init; } = 0.03;

    /// <summary>Another supposition as likely as the first: every share times a log-normal factor of σ 0.6, the calcium share even between 0.5 and 0.9.</summary>
    public static WaterSupposition Draw(Random random)
    {
        double Factor() => Math.Exp(0.6 * Normal(random));
        var typical = new WaterSupposition();
        return new WaterSupposition
        {
            CalciumShareOfHardness = 0.5 + 0.4 * random.NextDouble(),
            Calcium = typical.Calcium * Factor(),
            Magnesium = typical.Magnesium * Factor(),
            Sodium = typical.Sodium * Factor(),
            Potassium = typical.Potassium * Factor(),
            Alkalinity = typical.Alkalinity * Factor(),
            Chloride = typical.Chloride * Factor(),
            Sulfate = typical.Sulfate * Factor(),
            Nitrate = typical.Nitrate * Factor(),
        };
    }

    /// <summary>Box and Muller.</summary>
    internal static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

/// <summary>Substances in mmol/L and alkalinity in meq/L, with which of them the report said.</summary>
internal sealed class WaterGuess
{
    private readonly double[] _mmolPerLitre = new double[WaterIon.All.Count];

    public double AlkalinityMeqPerLitre { get; set; }

    public double this[WaterQuantity quantity]
    {
        get => _mmolPerLitre[IndexOf(quantity)];
        set => _mmolPerLitre[IndexOf(quantity)] = value;
    }

    /// <summary>Cations less anions, meq/L; alkalinity is an anion.</summary>
    public double ChargeMeqPerLitre => WaterIon.All.Select((ion, i) => ion.Charge * _mmolPerLitre[i]).Sum() - AlkalinityMeqPerLitre;

    /// <summary>Cations and anions together, meq/L.</summary>
    public double SumMeqPerLitre => WaterIon.All.Select((ion, i) => Math.Abs(ion.Charge) * _mmolPerLitre[i]).Sum() + Math.Abs(AlkalinityMeqPerLitre);

    public WaterGuess Copy()
    {
        var copy = new WaterGuess { AlkalinityMeqPerLitre = AlkalinityMeqPerLitre };
        _mmolPerLitre.CopyTo(copy._mmolPerLitre, 0);
        return copy;
    }

    /// <summary>
    /// Totals, mol per kg of water. Hydrogen follows from the definition of alkalinity, H = 2 C + 2 P − Alk, which for balanced charges is also neutrality.
    /// </summary>
    public ComponentAmounts MolPerKgWater(double carbonMmolPerLitre, double litresPerKgWater)
    {
        var amounts = new double[ComponentAmounts.Count];
        for (var i = 0; i < _mmolPerLitre.Length; i++)
        {
            amounts[(int)WaterIon.All[i].Component] = _mmolPerLitre[i];
        }

        amounts[(int)Component.Carbonate] = carbonMmolPerLitre;
        amounts[(int)Component.Hydrogen] = 2 * carbonMmolPerLitre + 2 * this[WaterQuantity.Phosphate] - AlkalinityMeqPerLitre;
        return ComponentAmounts.FromSpan(amounts).Scaled(litresPerKgWater / 1000);
    }

    /// <summary>EC at 25 °C, µS/cm, with a tenth more carbon than alkalinity; free carbon dioxide carries no current, so the tenth hardly matters.</summary>
    public double MicrosiemensPerCm() =>
        EquilibriumSolver.Solve(MolPerKgWater(Math.Max(1.1 * AlkalinityMeqPerLitre, 0.01), WaterCarbon.LitresPerKgWater)).Required().ConductivityMicrosiemensPerCm;

    private static int IndexOf(WaterQuantity quantity)
    {
        for (var i = 0; i < WaterIon.All.Count; i++)
        {
            if (WaterIon.All[i].Quantity == quantity)
            {
                return i;
            }
        }

        throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "Not a dissolved substance.");
    }
}
