namespace Rootwater.Growing.Pots;

/// <summary>A growing medium as the water in it meets it.</summary>
/// <remarks>
/// It holds a finite amount of exchangeable base and drives the water towards its own pH at a first-order rate. Base leaves it as
/// cations with hydroxide; when it takes base (or gives acid) it binds cations out of the water. See docs/science/pots.md.
/// </remarks>
public sealed record Medium
{
    /// <summary>Short name used in files ("expanded-clay").</summary>
    public required string Id { get; init; }
    public required string Name { get; init; }

    /// <summary>Litres of water that a litre of medium holds by itself above the reservoir (0.01 to 0.95).</summary>
    public required double WaterHeldLitresPerLitre { get; init; }

    /// <summary>Base it can give, meq per litre of medium.</summary>
    public required double BaseMeqPerLitre { get; init; }

    /// <summary>Acid it can give (base it can still take up), meq per litre of medium.</summary>
    public required double AcidMeqPerLitre { get; init; }

    /// <summary>pH at which it neither gives nor takes base, in balance with outdoor air (10^-3.4 atm of CO2).</summary>
    public required double RestingPH { get; init; }

    /// <summary>How that pH moves for each tenfold of carbon dioxide pressure: -2/3 for a base that behaves as calcite, 0 for exchange on organic matter.</summary>
    public required double RestingPHPerDecadeCO2 { get; init; }

    /// <summary>Share of the gap to its own pH, counted in base, that it closes in a day while its base is whole, per day.</summary>
    public required double ExchangePerDay { get; init; }

    /// <summary>Neutral salt that leaches out of it, meq per litre of medium; half chloride and half sulfate.</summary>
    public required double SaltMeqPerLitre { get; init; }

    /// <summary>Share of that salt that comes out in a day, per day.</summary>
    public required double SaltPerDay { get; init; }

    /// <summary>How the cations of its base and salt divide, in equivalents; the four add to 1.</summary>
    public required CationShares Cations { get; init; }

    /// <summary>Share of its surface that stays wet (0 to 1): the top layer of clay is mostly dry, moss is wet through.</summary>
    public required double WetSurfaceShare { get; init; }

    /// <summary>Share of its grains that stand in the reservoir of a wicking pot and give it their base too (0 to 0.9): the lower part of a pot of clay; none of what hangs above it on a wick.</summary>
    public required double GrainsInReservoirShare { get; init; }

    /// <summary>Where the values come from, or "from memory".</summary>
    public required string Source { get; init; }

    /// <summary>Its own pH under a carbon dioxide pressure given as log10 of atm.</summary>
    public double RestingPHAt(double log10PCO2Atmospheres) => RestingPH + RestingPHPerDecadeCO2 * (log10PCO2Atmospheres + 3.4);
}

/// <summary>Shares of equivalents that add to 1.</summary>
public readonly record struct CationShares(double Calcium, double Magnesium, double Potassium, double Sodium);
