using Rootwater.Chemistry.Activity;
using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Conductivity;

/// <summary>
/// Conductivity of a mixture of free ions by Debye, Hückel and Onsager with ions of finite size (Falkenhagen's denominators), the relaxation
/// term with the mixture's mean cation and mean anion:
/// λ = (λ° - z² E κ/(1 + κa)) (1 - R κ q/(1 + √q) / ((1 + κa)(1 + √q κa))), κ = B √I.
/// </summary>
/// <remarks>
/// Where ions of different charge share a side, each is weighed by its part in that side's ionic strength, as the reference code does; the plain
/// sum reads 4 % lower on hard bicarbonate waters and no measured value was at hand to choose by. Single salts do not feel it.
/// E = F e/(6πη) and R = |z₊z₋| e²/(12π ε kT) are constants of nature and of water; the closest approach a of each ion is fitted, see docs/science/conductivity.md.
/// Source of the form: Robinson and Stokes, Electrolyte Solutions (1959), ch. 7; from memory. Ion pairs carry what their own mobility says.
/// </remarks>
internal static class OnsagerConductivity
{
    private const double Faraday = 96485.33212;
    private const double ElementaryCharge = 1.602176634e-19;
    private const double Boltzmann = 1.380649e-23;
    private const double VacuumPermittivity = 8.8541878128e-12;

    /// <summary>µS/cm.</summary>
    /// <param name="charges">Charge numbers.</param>
    /// <param name="limiting">Limiting molar conductivities at the temperature, S cm²/mol.</param>
    /// <param name="closestApproach">Ångström.</param>
    /// <param name="molalities">mol per kg of water.</param>
    /// <param name="kgWaterPerLitre">Kilograms of water in a litre of the solution.</param>
    /// <param name="ionicStrength">mol per kg of water.</param>
    /// <param name="temperature">Temperature of the solution.</param>
    public static double MicrosiemensPerCm(
        ReadOnlySpan<int> charges,
        ReadOnlySpan<double> limiting,
        ReadOnlySpan<double> closestApproach,
        ReadOnlySpan<double> molalities,
        double kgWaterPerLitre,
        double ionicStrength,
        Temperature temperature)
    {
        double cationEquivalents = 0, anionEquivalents = 0, cations = 0, anions = 0, cationConductivity = 0, anionConductivity = 0, cationStrength = 0, anionStrength = 0;
        for (var s = 0; s < charges.Length; s++)
        {
            var z = charges[s];
            if (z > 0)
            {
                cations += molalities[s];
                cationEquivalents += z * molalities[s];
                cationConductivity += molalities[s] * limiting[s];
                cationStrength += z * z * molalities[s];
            }
            else if (z < 0)
            {
                anions += molalities[s];
                anionEquivalents -= z * molalities[s];
                anionConductivity += molalities[s] * limiting[s];
                anionStrength += z * z * molalities[s];
            }
        }

        if (cations == 0 || anions == 0)
        {
            return 0;
        }

        // Mean charge and mean equivalent conductivity on either side.
        var zPlus = cationEquivalents / cations;
        var zMinus = anionEquivalents / anions;
        var lambdaPlus = cationConductivity / cationEquivalents;
        var lambdaMinus = anionConductivity / anionEquivalents;
        var q = zPlus * zMinus / (zPlus + zMinus) * (lambdaPlus + lambdaMinus) / (zMinus * lambdaPlus + zPlus * lambdaMinus);
        var rootQ = Math.Sqrt(q);

        const double PerMetre = 1e10;
        var kappa = DebyeHuckel.At(temperature).B * Math.Sqrt(ionicStrength);
        var viscosity = WaterProperties.ViscosityMillipascalSeconds(temperature) * 1e-3;
        var permittivity = VacuumPermittivity * WaterProperties.RelativePermittivity(temperature);
        var electrophoretic = Faraday * ElementaryCharge * kappa * PerMetre / (6 * Math.PI * viscosity) * 1e4;
        var relaxation = zPlus * zMinus * ElementaryCharge * ElementaryCharge * kappa * PerMetre / (12 * Math.PI * permittivity * Boltzmann * temperature.Kelvin) * q / (1 + rootQ);
        var sum = 0.0;
        for (var s = 0; s < charges.Length; s++)
        {
            if (charges[s] != 0 && limiting[s] > 0)
            {
                var z = Math.Abs(charges[s]);
                var size = kappa * closestApproach[s];
                var dragged = Math.Max(0, limiting[s] - z * z * electrophoretic / (1 + size));
                var relaxed = 1 - relaxation / ((1 + size) * (1 + rootQ * size));
                var share = charges[s] > 0 ? z * cationEquivalents / cationStrength : z * anionEquivalents / anionStrength;
                sum += molalities[s] * dragged * relaxed * share;
            }
        }

        // S cm²/mol × mol/L = mS/cm.
        return sum * kgWaterPerLitre * 1000;
    }
}
