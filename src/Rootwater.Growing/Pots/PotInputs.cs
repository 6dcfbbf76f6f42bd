using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>The checks that everything given for a forecast passes before anything is computed.</summary>
internal static class PotInputs
{
    public static void Check(PotParameters parameters, PotSetup setup, PotClimate climate, PotState start, IReadOnlyList<PotEvent> events, double hours)
    {
        parameters.Check();
        setup.Check();
        climate.Check();
        PotInputException.RequireWithin("days", hours / 24, 0.25, 120, "days");
        PotInputException.RequireWithin("start.medium.litres", start.Medium.Litres, setup.HeldLitres * parameters.DryResidueShare * 0.999, setup.HeldLitres * 1.001, "litres, what the medium holds from air-dry to full");
        PotInputException.RequireWithin("start.reservoir.litres", start.Reservoir.Litres, 0, setup.ReservoirLitres * 1.001, "litres, what the reservoir holds");
        PotInputException.RequireWithin("start.baseHeldMeq", start.BaseHeldMeq, 0, 1e6, "meq");
        PotInputException.RequireWithin("start.saltLeftMeq", start.SaltLeftMeq, 0, 1e6, "meq");
        CheckWater("start.medium", start.Medium.InMolPerKgWater());
        if (start.Reservoir.Litres > 0)
        {
            CheckWater("start.reservoir", start.Reservoir.InMolPerKgWater());
        }

        for (var i = 0; i < events.Count; i++)
        {
            var field = $"events[{i}]";
            PotInputException.RequireWithin(field + ".hour", events[i].Hour, 0, hours, "hours, within the days of the forecast");
            PotInputException.RequireWithin(field + ".litres", events[i].Litres, 0.001, 100, "litres");
            CheckWater(field, events[i].MolPerKgWater);
        }
    }

    private static void CheckWater(string field, ComponentAmounts molPerKgWater)
    {
        double charge = 0, charges = 1e-9;
        for (var i = 0; i < ComponentAmounts.Count; i++)
        {
            var component = (Component)i;
            var amount = molPerKgWater[component];
            if (component != Component.Hydrogen && amount is < 0 or > 0.5)
            {
                throw new PotInputException($"{field}.{component}", amount, "0 to 0.5 mol per kg of water: this is a feed, not a concentrate");
            }

            charge += amount * PotChemistry.Charges[i];
            charges += Math.Abs(amount * PotChemistry.Charges[i]);
        }

        if (Math.Abs(charge) > 1e-6 * charges)
        {
            throw new PotInputException(field, charge, "totals whose charges add up to none (hydrogen included)");
        }
    }
}
