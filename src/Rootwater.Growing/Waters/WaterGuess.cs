using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Waters;

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
