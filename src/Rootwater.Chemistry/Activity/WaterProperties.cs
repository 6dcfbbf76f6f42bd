using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Activity;

/// <summary>Pure water at 1 atm: density, permittivity, viscosity.</summary>
public static class WaterProperties
{
    /// <summary>Density, kg/L, 0 to 100 °C. G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, eq. 16 (from memory; checked against the reference densities).</summary>
    public static double DensityKgPerLitre(Temperature temperature)
    {
        var t = temperature.Celsius;
        var numerator = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
        return numerator / (1 + 16.879850e-3 * t) / 1000;
    }

    /// <summary>Relative permittivity, 0 to 350 °C. D. J. Bradley and K. S. Pitzer, J. Phys. Chem. 83 (1979) 1599 (from memory; checked against the reference Debye-Hückel A and B).</summary>
    public static double RelativePermittivity(Temperature temperature)
    {
        const double PressureBar = 1.01325;
        var t = temperature.Kelvin;
        var at1000Bar = 342.79 * Math.Exp(t * (-5.0866e-3 + t * 9.4690e-7));
        var c = -2.0525 + 3115.9 / (t - 182.89);
        var b = -8032.5 + 4.2142e6 / t + 2.1417 * t;
        return at1000Bar + c * Math.Log((b + PressureBar) / (b + 1000));
    }

    /// <summary>Viscosity, mPa·s, -20 to 110 °C. IAPWS release on viscosity (2008), the short form for 0.1 MPa (from memory).</summary>
    public static double ViscosityMillipascalSeconds(Temperature temperature)
    {
        var t = temperature.Kelvin / 300;
        return (280.68 * Math.Pow(t, -1.9) + 511.45 * Math.Pow(t, -7.7) + 61.131 * Math.Pow(t, -19.6) + 0.45903 * Math.Pow(t, -40)) / 1000;
    }
}
