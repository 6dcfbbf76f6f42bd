using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Activity;

/// <summary>
/// Extended Debye-Hückel and Davies activity coefficients.
/// Extended: log10 γ = -A z² √I / (1 + B a √I) + b I. Davies: log10 γ = -A z² (√I/(1 + √I) - 0.3 I). Neutral (Setschenow): log10 γ = b I.
/// I in mol per kg of water, a in ångström, b in kg/mol. Good to I about 0.15; weak beyond.
/// </summary>
/// <remarks>A and B from permittivity and density: A = 1.8248e6 √ρ (εT)^-3/2, B = 50.29 √ρ (εT)^-1/2 (Truesdell and Jones 1974; from memory).</remarks>
public readonly record struct DebyeHuckel
{
    private const double Ln10 = 2.302585092994046;

    private DebyeHuckel(double a, double b)
    {
        A = a;
        B = b;
    }

    /// <summary>√(kg/mol).</summary>
    public double A { get; }

    /// <summary>√(kg/mol) per ångström; B √I is the inverse Debye length.</summary>
    public double B { get; }

    /// <summary>The slopes at a temperature.</summary>
    public static DebyeHuckel At(Temperature temperature)
    {
        var density = WaterProperties.DensityKgPerLitre(temperature);
        var et = WaterProperties.RelativePermittivity(temperature) * temperature.Kelvin;
        return new DebyeHuckel(1.82483e6 * Math.Sqrt(density) / (et * Math.Sqrt(et)), 50.2916 * Math.Sqrt(density / et));
    }

    /// <summary>Natural logarithm of the activity coefficient; ionic strength in mol per kg of water, its root given so that a loop takes it once.</summary>
    internal double LnGamma(in ActivityModel model, double ionicStrength, double sqrtIonicStrength) => Ln10 * model.Form switch
    {
        ActivityForm.Extended => -A * model.ChargeSquared * sqrtIonicStrength / (1 + B * model.IonSizeAngstrom * sqrtIonicStrength) + model.BKgPerMole * ionicStrength,
        ActivityForm.Davies => -A * model.ChargeSquared * (sqrtIonicStrength / (1 + sqrtIonicStrength) - 0.3 * ionicStrength),
        _ => model.BKgPerMole * ionicStrength,
    };

    /// <summary>Derivative of the natural logarithm of the activity coefficient by the ionic strength, kg/mol.</summary>
    internal double LnGammaSlope(in ActivityModel model, double sqrtIonicStrength)
    {
        switch (model.Form)
        {
            case ActivityForm.Extended:
                var size = 1 + B * model.IonSizeAngstrom * sqrtIonicStrength;
                return Ln10 * (-A * model.ChargeSquared / (2 * sqrtIonicStrength * size * size) + model.BKgPerMole);
            case ActivityForm.Davies:
                var one = 1 + sqrtIonicStrength;
                return -Ln10 * A * model.ChargeSquared * (1 / (2 * sqrtIonicStrength * one * one) - 0.3);
            default:
                return Ln10 * model.BKgPerMole;
        }
    }
}

internal enum ActivityForm
{
    Setschenow,
    Davies,
    Extended,
}

internal readonly record struct ActivityModel(ActivityForm Form, double ChargeSquared, double IonSizeAngstrom, double BKgPerMole);
