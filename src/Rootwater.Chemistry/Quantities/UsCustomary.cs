namespace Rootwater.Chemistry.Quantities;

/// <summary>The United States customary measures that feed recipes are printed in, each factor once.</summary>
/// <remarks>All exact by definition: international avoirdupois pound 0.453 592 37 kg of 16 ounces and 7000 grains (1959 agreement); US liquid
/// gallon 231 cubic inches of 128 fluid ounces; imperial gallon 4.546 09 L (UK Units of Measurement Regulations 1995).</remarks>
public static class UsCustomary
{
    private const double GramsPerPound = 453.59237;

    /// <summary>Grams in an avoirdupois ounce.</summary>
    public const double GramsPerOunce = GramsPerPound / 16;

    /// <summary>Milligrams in a grain.</summary>
    public const double MilligramsPerGrain = GramsPerPound * 1000 / 7000;

    /// <summary>Litres in a US liquid gallon.</summary>
    public const double LitresPerGallon = 231 * 2.54 * 2.54 * 2.54 / 1000;

    /// <summary>Millilitres in a US fluid ounce.</summary>
    public const double MillilitresPerFluidOunce = LitresPerGallon * 1000 / 128;

    /// <summary>Litres in an imperial gallon (which is not a US measure; it stands here beside its namesake).</summary>
    public const double LitresPerImperialGallon = 4.54609;
}
