using System.Globalization;

namespace Rootwater.Growing.Pots.Calibration;

/// <summary>Whether the readings can tell a trait.</summary>
public enum Knowledge
{
    /// <summary>This pot's own readings tell it.</summary>
    Own,

    /// <summary>Its siblings tell it; its own readings add little.</summary>
    Siblings,

    /// <summary>Nothing tells it: the interval is nearly as wide as what the data sheet left open.</summary>
    Untold,
}

/// <summary>One trait of a pot as fitted.</summary>
/// <param name="Trait">Which.</param>
/// <param name="Value">Middle and 90 % interval: a factor on the data sheet, or pH above it for the resting pH.</param>
/// <param name="BeforeReadings">The same before this pot's own readings, from its siblings.</param>
/// <param name="Known">Who tells it.</param>
/// <param name="WidthLeft">Width of the interval in shares of what the data sheet leaves open: 1 is nothing learned, 0 is known.</param>
public sealed record FittedTrait(PotTrait Trait, Expected Value, Expected BeforeReadings, Knowledge Known, double WidthLeft);

/// <summary>One reading beside what the fit makes of it.</summary>
/// <param name="Reading">As read.</param>
/// <param name="Band">90 % band of such a reading, its own error included; the unit of the reading.</param>
/// <param name="Inside">The reading lies in it.</param>
/// <param name="WentWrong">Chance that the reading went wrong (0 to 1); by it the reading was weighed down.</param>
/// <param name="Weight">What it counted for, above 0 to 1.</param>
public sealed record FittedReading(PotReading Reading, Expected Band, bool Inside, double WentWrong, double Weight);

/// <summary>A change found in a pot's readings.</summary>
/// <param name="Hours">About when, hours after the start of the record: between the visits around it.</param>
/// <param name="EarliestHours">The earliest it may have been.</param>
/// <param name="LatestHours">The latest.</param>
/// <param name="Certainty">Chance that it is one, 0 to 1, against one change in thirty visits beforehand.</param>
/// <param name="Traits">What moved, most certain first: before and after.</param>
/// <param name="Words">What it may be.</param>
public sealed record DetectedChange(double Hours, double EarliestHours, double LatestHours, double Certainty, IReadOnlyList<(PotTrait Trait, Expected Before, Expected After)> Traits, string Words);

/// <summary>What is known of one pot.</summary>
public sealed record FittedPot
{
    public required Guid PotId { get; init; }

    /// <summary>How many readings of its own stand behind it; zero means its siblings' forecast.</summary>
    public required int Readings { get; init; }

    /// <summary>How many pots of its medium taught it.</summary>
    public required int Siblings { get; init; }
    public required IReadOnlyList<FittedTrait> Traits { get; init; }

    /// <summary>The middle, to run the simulator with; from <see cref="StateNow"/>.</summary>
    public required PotParameters Parameters { get; init; }

    /// <summary>What the pot holds at <see cref="AtHours"/>, counted so that a run with <see cref="Parameters"/> starts from it.</summary>
    public required PotState StateNow { get; init; }

    /// <summary>Hours after the start of the record.</summary>
    public required double AtHours { get; init; }

    /// <summary>Share of the fresh medium's base that is left, 0 to 1, 90 % interval.</summary>
    public required Expected CapacityLeft { get; init; }

    /// <summary>The readings since the last change, beside their bands.</summary>
    public required IReadOnlyList<FittedReading> Fit { get; init; }
    public required IReadOnlyList<DetectedChange> Changes { get; init; }

    /// <summary>The spread of the traits for a forecast's bands: give them to <see cref="PotForecastRequest.Spreads"/>.</summary>
    public required IReadOnlyList<Uncertain> Spreads { get; init; }

    /// <summary>What is known and what is not, in sentences.</summary>
    public required IReadOnlyList<string> Words { get; init; }

    public FittedTrait this[PotTrait trait] => Traits[(int)trait];
}

/// <summary>Words of a calibration.</summary>
internal static class CalibrationWords
{
    public static string Name(PotTrait trait) => trait switch
    {
        PotTrait.BaseRate => "how fast the medium gives base",
        PotTrait.RestingPH => "the pH at which the medium rests",
        PotTrait.BaseCapacity => "how much base it held when fresh",
        PotTrait.WaterLoss => "water lost to the air",
        PotTrait.Uptake => "uptake of nutrients",
        PotTrait.Algae => "base that algae leave in the reservoir",
        _ => "salt the medium leaches",
    };

    private static string Siblings(int count) => count switch { <= 0 => "no sibling", 1 => "one sibling", _ => Say($"{count} siblings") };

    public static IReadOnlyList<string> Of(FittedPot pot, string medium, bool hasAlgae)
    {
        var traits = pot.Traits.Where(trait => hasAlgae || trait.Trait != PotTrait.Algae).ToList();
        var words = new List<string>
        {
            pot.Readings == 0
                ? pot.Siblings == 0
                    ? Say($"No reading of this pot, nor of another in {medium}: the forecast is the data sheet's.")
                    : Say($"No reading of this pot yet: the forecast is that of its {Siblings(pot.Siblings)} in {medium}.")
                : Say($"Fitted to {pot.Readings} readings of this pot beside {Siblings(pot.Siblings - 1)} in {medium}."),
        };
        foreach (var trait in traits.Where(trait => trait.Known != Knowledge.Untold))
        {
            words.Add(PotTraits.IsFactor(trait.Trait)
                ? Say($"{Name(trait.Trait)}: {trait.Value.Value:0.00} of what its data say ({trait.Value.Low:0.00} to {trait.Value.High:0.00}), told by {(trait.Known == Knowledge.Own ? "its own readings" : "its siblings")}.")
                : Say($"{Name(trait.Trait)}: {trait.Value.Value:+0.00;-0.00} against its data ({trait.Value.Low:+0.00;-0.00} to {trait.Value.High:+0.00;-0.00}), told by {(trait.Known == Knowledge.Own ? "its own readings" : "its siblings")}."));
        }

        var untold = traits.Where(trait => trait.Known == Knowledge.Untold).Select(trait => Name(trait.Trait)).ToList();
        if (untold.Count > 0)
        {
            words.Add("The readings cannot tell: " + string.Join(", ", untold) + ".");
        }

        var wrong = pot.Fit.Count(reading => reading.WentWrong > 0.5);
        if (wrong > 0)
        {
            words.Add(wrong == 1
                ? "One of the readings lies so far off that it probably went wrong; it is shown, and weighed down."
                : Say($"{wrong} of the readings lie so far off that they probably went wrong; they are shown, and weighed down."));
        }

        words.AddRange(pot.Changes.Select(change => Say($"About day {change.Hours / 24:0} ({change.EarliestHours / 24:0} to {change.LatestHours / 24:0}) something changed ({change.Certainty:0 %}): {change.Words}")));
        return words;
    }

    /// <summary>What a change may be, by what moved most. Common practice, no source.</summary>
    public static string Explain(IReadOnlyList<(PotTrait Trait, double Errors)> moved, PotEvent? lastLeach, double hours, string? known)
    {
        var (trait, errors) = moved[0];
        var up = errors > 0;
        var both = moved.Count > 1 && Math.Abs(moved[1].Errors) > 1.5 ? moved[1] : default;
        var cause = (trait, up) switch
        {
            (PotTrait.Uptake, false) when both.Trait == PotTrait.WaterLoss && both.Errors < 0 => "roots take up less and the plant drinks less: look for dead roots",
            (PotTrait.Uptake, false) => "roots take up less: dead roots, or a rest",
            (PotTrait.Uptake, true) => "roots take up more: new roots, or algae in the reservoir that feed too",
            (PotTrait.WaterLoss, true) => "it loses more water: warmer or drier air, a larger plant, or a leak",
            (PotTrait.WaterLoss, false) => "it loses less water: cooler or damper air, leaves lost, or roots that no longer drink",
            (PotTrait.RestingPH, true) => "the water goes to a higher pH than before: algae in the light, or lime left by hard water",
            (PotTrait.RestingPH, false) => "the water goes to a lower pH than before: the medium is decaying, or its base is going",
            (PotTrait.BaseRate or PotTrait.BaseCapacity, false) => "the medium gives base more slowly: washed out, or its grains are coated",
            (PotTrait.BaseRate or PotTrait.BaseCapacity, true) => "the medium gives more base: was it renewed, or topped with fresh grains?",
            (PotTrait.Algae, true) => "the reservoir's water goes to a higher pH than before: more algae, more light",
            (PotTrait.Algae, false) => "the reservoir's water goes to a lower pH than before: fewer algae, or it was brushed out",
            (PotTrait.Salt, true) => "more salt comes out of the medium: crust washed down, or a feed not on record",
            _ => "less salt comes out of the medium: was it leached without being noted?",
        };
        return cause
            + (lastLeach is not null && Math.Abs(lastLeach.Hour - hours) < 24 * 7 ? Say($"; there was a leach on day {lastLeach.Hour / 24:0}") : "")
            + (known is null ? "." : $"; on record: {known}.");
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
