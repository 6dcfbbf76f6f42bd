using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard.Supply;

/// <summary>Which products draw water from the air, and how far a gram of an opened package has thinned.</summary>
/// <remarks>
/// A salt draws water when the air is damper than over its own saturated solution. Relative humidity over saturated solutions at 25 °C: Greenspan 1977
/// (J. Res. NBS 81A, 89) where marked, else handbook values; all from memory. How fast is from memory, no measurement: with the lid on and
/// opened for each can, a share of 0.1 a year for each 10 % of air above it. What a lot really holds is learned from the cans (Mixing.Reconciliation).
/// </remarks>
public static class Hygroscopy
{
    private const double SharePerYearPerTenPercent = 0.1;

    // Beyond this it runs and nobody weighs it any more.
    internal const double Most = 0.25;

    // Cation and anion that must both be there, with the humidity over the salt's saturated solution, percent.
    private static readonly (Component One, Component Other, double Percent)[] s_salts =
    [
        (Component.Calcium, Component.Chloride, 29), (Component.Magnesium, Component.Chloride, 33), // MgCl2 32.8: Greenspan
        (Component.Calcium, Component.Nitrate, 50), (Component.Magnesium, Component.Nitrate, 53), // Mg(NO3)2 52.9: Greenspan
        (Component.Ammonium, Component.Nitrate, 62), (Component.Sodium, Component.Nitrate, 74), // NaNO3 74.3: Greenspan
        (Component.Ammonium, Component.Sulfate, 81), (Component.Potassium, Component.Chloride, 84), // (NH4)2SO4 81.0, KCl 84.3: Greenspan
        (Component.Magnesium, Component.Sulfate, 89), (Component.Potassium, Component.Nitrate, 93), // KNO3 93.6: Greenspan
        (Component.Potassium, Component.Phosphate, 95), (Component.Potassium, Component.Sulfate, 97), // K2SO4 97.3: Greenspan
    ];

    private const double UreaPercent = 73;

    /// <summary>Relative humidity of the air, %, above which a solid product draws water; null for liquids and for what is in no table.</summary>
    /// <remarks>By its thirstiest pair of ions that makes up at least a tenth of what it holds: mixtures draw water below either of their salts, so this is the mildest case.</remarks>
    public static double? DrawsAbovePercent(Product product)
    {
        if (product.IsLiquid)
        {
            return null;
        }

        var all = product.MolPerKg.AsSpan().ToArray().Where((amount, i) => (Component)i != Component.Hydrogen && amount > 0).Sum();
        if (all <= 0)
        {
            return null;
        }

        bool Holds(Component component) => product.MolPerKg[component] > 0.1 * all;
        var found = s_salts.Where(salt => Holds(salt.One) && Holds(salt.Other)).Select(salt => (double?)salt.Percent).Append(Holds(Component.Urea) ? UreaPercent : null).Min();
        return found;
    }

    public static bool IsHygroscopic(Product product, double roomHumidityPercent = 65) => DrawsAbovePercent(product) is { } draws && draws < roomHumidityPercent;

    /// <summary>How much less of everything a gram holds than when the lot was opened, as a share with its band (a third to three times); zero for what draws no water.</summary>
    /// <param name="product">The product.</param>
    /// <param name="openedOn">When; null is not opened.</param>
    /// <param name="asOf">Now.</param>
    /// <param name="roomHumidityPercent">Where it is kept.</param>
    public static Expected Thinned(Product product, DateOnly? openedOn, DateOnly asOf, double roomHumidityPercent = 65)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(roomHumidityPercent, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(roomHumidityPercent, 100);
        if (openedOn is not { } opened || DrawsAbovePercent(product) is not { } draws || draws >= roomHumidityPercent || asOf <= opened)
        {
            return default;
        }

        var years = (asOf.DayNumber - opened.DayNumber) / 365.25;
        var share = SharePerYearPerTenPercent * (roomHumidityPercent - draws) / 10 * years;
        return new Expected(Math.Min(Most, share / 3), Math.Min(Most, share), Math.Min(Most, share * 3));
    }
}
