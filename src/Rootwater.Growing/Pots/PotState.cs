using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Pots;

/// <summary>Water with what is dissolved in it.</summary>
/// <param name="Litres">Volume; one litre is taken as one kilogram of water (off by less than 0.5 % between 5 and 30 °C).</param>
/// <param name="Mol">Moles of each component, hydrogen included; as a whole without charge.</param>
public sealed record PotWater(double Litres, ComponentAmounts Mol)
{
    /// <summary>No water at all.</summary>
    public static PotWater None { get; } = new(0, ComponentAmounts.Zero);

    /// <summary>So many litres of a solution given in mol per kg of water.</summary>
    public static PotWater Of(double litres, ComponentAmounts molPerKgWater) => new(litres, molPerKgWater.Scaled(litres));

    /// <summary>Totals, mol per kg of water.</summary>
    /// <exception cref="InvalidOperationException">There is no water.</exception>
    public ComponentAmounts InMolPerKgWater() => Litres > 0 ? Mol.Scaled(1 / Litres) : throw new InvalidOperationException("No water, no concentration.");
}

/// <summary>What a pot holds at one moment. pH is not part of it: pH follows from the totals.</summary>
public sealed record PotState
{
    /// <summary>The reservoir; <see cref="PotWater.None"/> where there is none or it is empty.</summary>
    public required PotWater Reservoir { get; init; }

    /// <summary>The water held in the medium.</summary>
    public required PotWater Medium { get; init; }

    /// <summary>Base the medium holds in exchangeable form, meq in the whole pot.</summary>
    public required double BaseHeldMeq { get; init; }

    /// <summary>Salt that still leaches out of the medium, meq in the whole pot.</summary>
    public required double SaltLeftMeq { get; init; }

    /// <summary>
    /// Base and salt counted as the data sheet counts them, so that a run which multiplies them by these parameters' factors starts from what is really
    /// there. For going on from the end of a run with fitted parameters.
    /// </summary>
    public PotState AsSheetOf(PotParameters parameters) => this with
    {
        BaseHeldMeq = parameters.BaseFactor > 0 ? BaseHeldMeq / parameters.BaseFactor : BaseHeldMeq,
        SaltLeftMeq = parameters.SaltFactor > 0 ? SaltLeftMeq / parameters.SaltFactor : SaltLeftMeq,
    };

    /// <summary>A pot just filled with one solution: medium wet through, reservoir full, and the medium as its data sheet says.</summary>
    public static PotState FilledWith(PotSetup setup, ComponentAmounts molPerKgWater) => new()
    {
        Reservoir = PotWater.Of(setup.ReservoirLitres, molPerKgWater),
        Medium = PotWater.Of(setup.HeldLitres, molPerKgWater),
        BaseHeldMeq = setup.Medium.BaseMeqPerLitre * setup.MediumLitres,
        SaltLeftMeq = setup.Medium.SaltMeqPerLitre * setup.MediumLitres,
    };
}
