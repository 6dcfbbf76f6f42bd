using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Activity;

/// <summary>
/// Extended Debye-Hückel and Davies activity coefficients.
/// Extended: log10 γ = -A z² √I / (1 + B a √I) + b I. Davies: log10 γ = -A z² (√I/(1 + √I) - 0.3 I). Neutral (Setschenow): log10 γ = b I.
/// A Davies row with an ion size has B a √I in place of √I below the line: the chelates' source gives no size and its code takes none, which
/// runs away in concentrates; 1 Å stays within 0.015 of its chelated shares in a feed and holds in a concentrate.
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

    /// <summary>The three numbers of ln γ = slope √I / (1 + size √I) + linear I, which all three forms share.</summary>
    internal (double Slope, double Size, double Linear) LnGammaTerms(ActivityModel model) => model.Form switch
    {
        ActivityForm.Extended => (-Ln10 * A * model.ChargeSquared, B * model.IonSizeAngstrom, Ln10 * model.BKgPerMole),
        ActivityForm.Davies => (-Ln10 * A * model.ChargeSquared, model.IonSizeAngstrom > 0 ? B * model.IonSizeAngstrom : 1, Ln10 * A * model.ChargeSquared * 0.3),
        _ => (0, 1, Ln10 * model.BKgPerMole),
    };
}

internal enum ActivityForm
{
    Setschenow,
    Davies,
    Extended,
}

internal readonly record struct ActivityModel(ActivityForm Form, double ChargeSquared, double IonSizeAngstrom, double BKgPerMole);
