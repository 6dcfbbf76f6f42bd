using System.Text.Json.Serialization;
using Rootwater.Chemistry.Equilibrium;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Mixing;

/// <summary>What of a card changes when something more goes into the can.</summary>
public sealed record CanFigures
{
    public required double Litres { get; init; }
    public required ComponentAmounts MolPerKgWater { get; init; }
    public required NutrientAmounts MgPerLitre { get; init; }
    public required Expected EcMicrosiemensPerCm { get; init; }
    public required double EcOnPenMicrosiemensPerCm { get; init; }
    public required Expected PH { get; init; }
    public required double PHAfterADay { get; init; }
    public required double PHInBalanceWithAir { get; init; }
    public required double AlkalinityMilliequivalentsPerLitre { get; init; }
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingDefault)]
    public double BiuretMgPerLitre { get; init; }
    public required string? ClosestMineral { get; init; }
    public required double? WorstSaturationIndex { get; init; }
    public required IReadOnlyList<ServedGroup> Serves { get; init; }
    public required decimal Cost { get; init; }
    public AgeLimit? AgeLimit { get; init; }
}

/// <summary>A repair that was really done.</summary>
/// <param name="Id">Of the fact that says so.</param>
/// <param name="Additions">What went in: what the grower says was added, which need not be what was offered.</param>
/// <param name="Warnings">What the repaired can still breaks, in words; empty when nothing.</param>
/// <param name="Before">The card's figures before it, so that it can be taken back.</param>
public sealed record DoneRepair(Guid Id, IReadOnlyList<RepairAddition> Additions, IReadOnlyList<string> Warnings, CanFigures Before);

/// <summary>A card after a repair, and back again. Steps stay what was mixed by the card; figures become those of what is in the can now.</summary>
public static class RepairedCan
{
    public static CanPlan Do(CanPlan card, Guid id, IReadOnlyList<RepairAddition> additions, IReadOnlyList<string> warnings, CanFigures after) =>
        With(card, after) with { Repairs = [.. card.Repairs, new DoneRepair(id, additions, warnings, Of(card))] };

    /// <summary>Without its latest repair.</summary>
    public static CanPlan Undo(CanPlan card) => card.Repairs.Count == 0 ? card : With(card, card.Repairs[^1].Before) with { Repairs = [.. card.Repairs.Take(card.Repairs.Count - 1)] };

    /// <summary>As it was planned, without any repair.</summary>
    public static CanPlan AsPlanned(CanPlan card) => card.Repairs.Count == 0 ? card : With(card, card.Repairs[0].Before) with { Repairs = [] };

    private static CanFigures Of(CanPlan card) => new()
    {
        Litres = card.Litres,
        MolPerKgWater = card.MolPerKgWater,
        MgPerLitre = card.MgPerLitre,
        EcMicrosiemensPerCm = card.EcMicrosiemensPerCm,
        EcOnPenMicrosiemensPerCm = card.EcOnPenMicrosiemensPerCm,
        PH = card.PH,
        PHAfterADay = card.PHAfterADay,
        PHInBalanceWithAir = card.PHInBalanceWithAir,
        AlkalinityMilliequivalentsPerLitre = card.AlkalinityMilliequivalentsPerLitre,
        BiuretMgPerLitre = card.BiuretMgPerLitre,
        ClosestMineral = card.ClosestMineral,
        WorstSaturationIndex = card.WorstSaturationIndex,
        Serves = card.Serves,
        Cost = card.Cost,
        AgeLimit = card.AgeLimit,
    };

    private static CanPlan With(CanPlan card, CanFigures figures) => card with
    {
        Litres = figures.Litres,
        MolPerKgWater = figures.MolPerKgWater,
        MgPerLitre = figures.MgPerLitre,
        EcMicrosiemensPerCm = figures.EcMicrosiemensPerCm,
        EcOnPenMicrosiemensPerCm = figures.EcOnPenMicrosiemensPerCm,
        PH = figures.PH,
        PHAfterADay = figures.PHAfterADay,
        PHInBalanceWithAir = figures.PHInBalanceWithAir,
        AlkalinityMilliequivalentsPerLitre = figures.AlkalinityMilliequivalentsPerLitre,
        BiuretMgPerLitre = figures.BiuretMgPerLitre,
        ClosestMineral = figures.ClosestMineral,
        WorstSaturationIndex = figures.WorstSaturationIndex,
        Serves = figures.Serves,
        Cost = figures.Cost,
        AgeLimit = figures.AgeLimit,
    };

    internal static CanFigures FiguresOf(CanPlan card, VerifiedCan can, CanChemistry chemistry, Tools tools, decimal addedCost)
    {
        var solved = can.Solved;
        var conditions = new SolveConditions { Temperature = chemistry.Temperature };
        var defaults = new OpenCan();
        return new CanFigures
        {
            Litres = can.Contents.Litres,
            MolPerKgWater = solved.Totals,
            MgPerLitre = solved.MgPerLitre,
            EcMicrosiemensPerCm = CardWriter.Ec(solved, can.Spread, tools),
            EcOnPenMicrosiemensPerCm = CardWriter.OnPen(solved.Solution, tools.EcPenCompensationPerCelsius),
            PH = CardWriter.PH(solved, can.Spread, tools),
            PHAfterADay = CarbonDioxideExchange.After(solved.Totals, defaults.ExchangePerHour, 24, defaults.Log10AirPCO2, conditions).Solution?.PH ?? double.NaN,
            PHInBalanceWithAir = CanChemistry.Run(solved.Totals, conditions with { Air = Air.Open(defaults.Log10AirPCO2) })?.PH ?? double.NaN,
            AlkalinityMilliequivalentsPerLitre = solved.Solution.AlkalinityMeqPerKgWater * chemistry.KgWaterPerLitre,
            BiuretMgPerLitre = BiuretCap.MgPerLitre(can.Columns, can.Contents),
            ClosestMineral = solved.Closest?.Mineral.ToString(),
            WorstSaturationIndex = solved.Closest?.Index,
            Serves = [.. card.Serves.Select(served => served with { Bands = [.. served.Bands.Select(band => Band(band, can))] })],
            Cost = card.Cost + addedCost,
            AgeLimit = card.AgeLimit ?? CardWriter.AgeLimitOf(solved),
        };
    }

    private static BandResult Band(BandResult band, VerifiedCan can) => CanGoal.MeasureOf(band.What) is not { } measure
        ? band
        : CardWriter.Result(measure, band.Band, can);
}
