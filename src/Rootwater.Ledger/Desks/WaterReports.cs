using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Waters;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads a report entry with what the growing floor knows of waters.</summary>
internal static class WaterReports
{
    // Interim, until Waters.WaterReport lands: mg/L, pH and alkalinity only.
    public static WaterReportPreview Read(NewWaterReport report)
    {
        double Of(string what) => report.Values.FirstOrDefault(value => value.What == what)?.Value ?? 0;
        double Mol(string what, Nutrient nutrient) => Of(what) / 1000 / Nutrients.CarrierOf(nutrient).GramsPerMole;
        var alkalinity = Of("alkalinity") / 1000 + Of("HCO3") / 1000 / 61.017;
        var carbonate = alkalinity * (1 + Math.Pow(10, 6.4 - Of("pH")));
        var amounts = ComponentAmounts.From(
            (Component.Calcium, Mol("Ca", Nutrient.Calcium)), (Component.Magnesium, Mol("Mg", Nutrient.Magnesium)), (Component.Sodium, Mol("Na", Nutrient.Sodium)),
            (Component.Potassium, Mol("K", Nutrient.Potassium)), (Component.Chloride, Mol("Cl", Nutrient.Chloride)), (Component.Sulfate, Of("SO4") / 96060),
            (Component.Nitrate, Of("NO3") / 62005), (Component.Zinc, Mol("Zn", Nutrient.Zinc)), (Component.Carbonate, carbonate),
            (Component.Hydrogen, 2 * carbonate - alkalinity));
        var charge = amounts[Component.Sodium] + amounts[Component.Potassium] + amounts[Component.Hydrogen] + 2 * (amounts[Component.Calcium] + amounts[Component.Magnesium] + amounts[Component.Zinc])
            - amounts[Component.Nitrate] - amounts[Component.Chloride] - 2 * (amounts[Component.Sulfate] + amounts[Component.Carbonate]);
        amounts = charge > 0 ? amounts.PlusScaled(ComponentAmounts.From((Component.Chloride, 1)), charge) : amounts.PlusScaled(ComponentAmounts.From((Component.Sodium, 1)), -charge);
        var solution = EquilibriumSolver.Solve(amounts).Solution;
        return new WaterReportPreview
        {
            Source = new WaterSource { Id = report.WaterId, Name = "", MolPerKgWater = amounts },
            PH = solution?.PH,
            EcMicrosiemensPerCm = solution?.ConductivityAt25MicrosiemensPerCm(),
            AlkalinityMeqPerLitre = alkalinity * 1000,
            ChargeImbalancePercent = null,
            Problems = [],
            Notes = [],
        };
    }
}
