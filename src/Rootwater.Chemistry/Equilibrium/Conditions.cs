using Rootwater.Chemistry.Quantities;

namespace Rootwater.Chemistry.Equilibrium;

/// <summary>Whether carbon dioxide can come and go.</summary>
public readonly record struct Air
{
    private readonly double? _log10PCO2;

    private Air(double log10PCO2) => _log10PCO2 = log10PCO2;

    /// <summary>Sealed: dissolved inorganic carbon is what the totals say.</summary>
    public static Air Closed => default;

    /// <summary>Outdoor air, 10^-3.4 atm of carbon dioxide.</summary>
    public static Air Ambient { get; } = Open(-3.4);

    /// <summary>True when the carbon dioxide pressure is given and dissolved carbon follows from it.</summary>
    public bool IsOpen => _log10PCO2 is not null;

    /// <summary>log10 of the carbon dioxide pressure in atm.</summary>
    /// <exception cref="InvalidOperationException">The air is closed off.</exception>
    public double Log10PCO2Atmospheres => _log10PCO2 ?? throw new InvalidOperationException("Closed to the air: there is no pressure to read.");

    /// <summary>In balance with air of this carbon dioxide pressure. Carbonate in the totals then brings only its base; ammonia never escapes.</summary>
    /// <param name="log10PCO2Atmospheres">-8 to 0.5.</param>
    /// <exception cref="ArgumentOutOfRangeException">Outside that range.</exception>
    public static Air Open(double log10PCO2Atmospheres) => log10PCO2Atmospheres is >= -8 and <= 0.5
        ? new Air(log10PCO2Atmospheres)
        : throw new ArgumentOutOfRangeException(nameof(log10PCO2Atmospheres), log10PCO2Atmospheres, "log10 of the CO2 pressure in atm must lie between -8 and 0.5.");
}

/// <summary>What is asked of the solver besides the totals.</summary>
public sealed record SolveConditions
{
    /// <summary>25 °C, closed, pH from charge balance.</summary>
    public static SolveConditions Default { get; } = new();

    /// <summary>Temperature of the solution, 0 to 50 °C.</summary>
    public Temperature Temperature { get; init; } = Temperature.Reference;

    /// <summary>Closed, or open to carbon dioxide.</summary>
    public Air Air { get; init; } = Air.Closed;

    /// <summary>When set, the pH is held there and the total of hydrogen that this needs is the answer (<see cref="Solution.HydrogenMolPerKgWater"/>).</summary>
    public double? FixedPH { get; init; }
}

/// <summary>How hard to try.</summary>
public sealed record SolveOptions
{
    /// <summary>The defaults, good for everything a can or a concentrate may hold.</summary>
    public static SolveOptions Default { get; } = new();

    /// <summary>Most Newton steps. 200 is ten times what the hardest reference case takes.</summary>
    public int MaxIterations { get; init; } = 200;

    /// <summary>Largest relative error left in any mass balance. 1e-11, so that the 1e-9 promised outside keeps two digits in hand.</summary>
    public double RelativeTolerance { get; init; } = 1e-11;
}
