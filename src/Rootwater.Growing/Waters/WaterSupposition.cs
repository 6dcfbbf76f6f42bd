namespace Rootwater.Growing.Waters;

/// <summary>What is supposed where a report is silent: shares of the missing charge, and how calcium and magnesium split a hardness.</summary>
/// <remarks>
/// Shares of equivalents in a typical hard ground water (common practice, no source): cations Ca 0.55, Mg 0.18, Na 0.22, K 0.02; anions HCO3 0.6, Cl 0.2, SO4 0.17,
/// NO3 0.03. They only ever divide what charge balance and EC leave over.
/// </remarks>
internal sealed record WaterSupposition
{
    public double CalciumShareOfHardness { get; init; } = 0.75;
    public double Calcium { get; init; } = 0.55;
    public double Magnesium { get; init; } = 0.18;
    public double Sodium { get; init; } = 0.22;
    public double Potassium { get; init; } = 0.02;
    public double Alkalinity { get; init; } = 0.60;
    public double Chloride { get; init; } = 0.20;
    public double Sulfate { get; init; } = 0.17;
    public double Nitrate { get; init; } = 0.03;

    /// <summary>Another supposition as likely as the first: every share times a log-normal factor of σ 0.6, the calcium share even between 0.5 and 0.9.</summary>
    public static WaterSupposition Draw(Random random)
    {
        double Factor() => Math.Exp(0.6 * Normal(random));
        var typical = new WaterSupposition();
        return new WaterSupposition
        {
            CalciumShareOfHardness = 0.5 + 0.4 * random.NextDouble(),
            Calcium = typical.Calcium * Factor(),
            Magnesium = typical.Magnesium * Factor(),
            Sodium = typical.Sodium * Factor(),
            Potassium = typical.Potassium * Factor(),
            Alkalinity = typical.Alkalinity * Factor(),
            Chloride = typical.Chloride * Factor(),
            Sulfate = typical.Sulfate * Factor(),
            Nitrate = typical.Nitrate * Factor(),
        };
    }

    /// <summary>Box and Muller.</summary>
    internal static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
