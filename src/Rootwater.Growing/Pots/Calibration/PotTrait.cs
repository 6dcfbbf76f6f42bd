namespace Rootwater.Growing.Pots.Calibration;

/// <summary>What a pot's readings may teach.</summary>
public enum PotTrait
{
    /// <summary>How fast the medium gives base, against its data sheet.</summary>
    BaseRate,

    /// <summary>Where the medium rests, pH above its data sheet.</summary>
    RestingPH,

    /// <summary>How much base it held when fresh, against its data sheet.</summary>
    BaseCapacity,

    /// <summary>Evaporation and transpiration, against what climate and sizes say.</summary>
    WaterLoss,

    /// <summary>Uptake of nutrients, against what the leaf area says.</summary>
    Uptake,

    /// <summary>Salt the medium leaches, against its data sheet.</summary>
    Salt,

    /// <summary>Base that algae leave in the reservoir, against what is usual in the light. A reservoir's own, so that what it does is not taken for the medium's doing.</summary>
    Algae,
}

/// <summary>The traits as the fit sees them: factors as natural logarithms, the resting pH as a shift.</summary>
internal static class PotTraits
{
    public const int Count = 7;

    /// <summary>
    /// How much the pots of one medium differ before anything is known, one standard deviation: the spreads that <see cref="Uncertain"/> gives a forecast, divided
    /// between what is common to a medium and what is a pot's own. From memory; the fit learns them.
    /// </summary>
    public static double[] PotSd { get; } = [0.4, 0.2, 0.4, 0.2, 0.35, 0.4, 0.5];

    /// <summary>How far a medium's mean may be off its data sheet.</summary>
    public static double[] MediumSd { get; } = [0.4, 0.3, 0.5, 0.2, 0.3, 0.5, 0.5];

    /// <summary>How far all media together may be off theirs: the model's constants themselves.</summary>
    public static double[] CommonSd { get; } = [0.3, 0.15, 0.3, 0.2, 0.3, 0.3, 0.7];

    /// <summary>What a year does to a pot unseen, one standard deviation; earlier readings are worth that much less.</summary>
    public static double[] DriftPerYear { get; } = [0.3, 0.2, 0.3, 0.2, 0.4, 0.3, 0.6];

    /// <summary>How far a sudden change may go: dead roots halve an uptake and more.</summary>
    public static double[] ChangeSd { get; } = [0.9, 0.7, 0.7, 0.5, 1.2, 0.7, 1.2];

    /// <summary>Before anything is known, one standard deviation of a pot.</summary>
    public static double SheetSd(int trait) => Math.Sqrt(PotSd[trait] * PotSd[trait] + MediumSd[trait] * MediumSd[trait] + CommonSd[trait] * CommonSd[trait]);

    /// <summary>The farthest the fit goes: four of those.</summary>
    public static double Bound(int trait) => 4 * SheetSd(trait);

    public static PotParameters Apply(PotParameters parameters, ReadOnlySpan<double> theta) => parameters with
    {
        ExchangeFactor = parameters.ExchangeFactor * Math.Exp(theta[0]),
        RestingPHShift = parameters.RestingPHShift + theta[1],
        BaseFactor = parameters.BaseFactor * Math.Exp(theta[2]),
        WaterLossFactor = parameters.WaterLossFactor * Math.Exp(theta[3]),
        UptakeFactor = parameters.UptakeFactor * Math.Exp(theta[4]),
        SaltFactor = parameters.SaltFactor * Math.Exp(theta[5]),
        AlgaeMeqPerLitreDay = parameters.AlgaeMeqPerLitreDay * Math.Exp(theta[6]),
    };

    public static bool IsFactor(PotTrait trait) => trait != PotTrait.RestingPH;
}
