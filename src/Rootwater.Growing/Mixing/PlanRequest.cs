using Rootwater.Chemistry.Quantities;
using Rootwater.Growing.Cupboard;
using Rootwater.Growing.Waters;

namespace Rootwater.Growing.Mixing;

/// <summary>A can to mix in.</summary>
/// <param name="Name">What the grower calls it ("5 L can").</param>
/// <param name="Litres">The most it holds.</param>
/// <param name="RelativeVolumeError">One standard deviation of filling it to the mark, relative.</param>
public sealed record Vessel(string Name, double Litres, double RelativeVolumeError = 0.01);

/// <summary>What is left in a can mixed earlier, to be topped into a new one.</summary>
/// <param name="CanId">The earlier can.</param>
/// <param name="Name">Its letter and date, for the card.</param>
/// <param name="Litres">What is left.</param>
/// <param name="MolPerKgWater">What was mixed into it.</param>
/// <param name="AgeDays">How old it is; organic acids in it have an age limit.</param>
public sealed record Leftover(Guid CanId, string Name, double Litres, Chemistry.Species.ComponentAmounts MolPerKgWater, double AgeDays)
{
    /// <summary>Biuret that came with its urea; 0 where no label declared any.</summary>
    public double BiuretMgPerLitre { get; init; }
}

/// <summary>Scale, syringe and pens: their steps and their errors (one standard deviation).</summary>
public sealed record Tools
{
    public double ScaleStepGrams { get; init; } = 0.1;
    public double ScaleErrorGrams { get; init; } = 0.05;
    public double SyringeStepMillilitres { get; init; } = 0.1;
    public double SyringeErrorMillilitres { get; init; } = 0.05;
    public double WaterStepLitres { get; init; } = 0.1;
    public double EcPenRelativeError { get; init; } = 0.02;
    public double PHPenError { get; init; } = 0.05;

    /// <summary>The EC pen's compensation, per °C (0.019 or 0.02 are usual), to 25 °C.</summary>
    public double EcPenCompensationPerCelsius { get; init; } = 0.02;
}

/// <summary>A can that stands open where nothing else is known.</summary>
/// <param name="ExchangePerHour">Common practice, no source: about 0.05 per hour standing, more when aerated.</param>
/// <param name="Log10AirPCO2">log10 of the carbon dioxide pressure of the open air, atm.</param>
internal sealed record OpenCan(double ExchangePerHour = 0.05, double Log10AirPCO2 = -3.4);

/// <summary>Everything the planner needs to know. Nothing in it is looked up elsewhere.</summary>
public sealed record PlanRequest
{
    public required IReadOnlyList<WantGroup> Groups { get; init; }
    public required IReadOnlyList<WaterSource> Waters { get; init; }
    public required IReadOnlyList<SupplyItem> Cupboard { get; init; }
    public required IReadOnlyList<Vessel> Vessels { get; init; }
    public IReadOnlyList<Leftover> Leftovers { get; init; } = [];

    /// <summary>The most cans the grower is willing to mix.</summary>
    public int MostCans { get; init; } = 2;
    public Tools Tools { get; init; } = new();
    public Temperature CanTemperature { get; init; } = Temperature.FromCelsius(20);

    /// <summary>Rate at which an open can trades carbon dioxide with the air, per hour.</summary>
    public double CarbonDioxideExchangePerHour { get; init; } = new OpenCan().ExchangePerHour;

    /// <summary>log10 of the carbon dioxide pressure the can ends up with, in atm.</summary>
    public double Log10AirPCO2 { get; init; } = new OpenCan().Log10AirPCO2;

    /// <summary>
    /// How much work the search may be before the best plan so far is returned with its gap, as the time it takes on an ordinary machine: the same request gives the
    /// same plan. On a machine so slow or busy that twice this time passes, the search ends there, and the plan may be another.
    /// </summary>
    public TimeSpan TimeLimit { get; init; } = TimeSpan.FromSeconds(5);
}
