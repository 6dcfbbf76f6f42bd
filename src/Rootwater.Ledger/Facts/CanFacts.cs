using Rootwater.Growing;
using Rootwater.Growing.Mixing;

namespace Rootwater.Ledger.Facts;

/// <summary>A can is to be mixed by this card.</summary>
[FactKind("can.saved", 1)]
public sealed record CanSaved(CanPlan Card, IReadOnlyList<StepUse> Uses) : FactPayload;

/// <summary>What a step takes from a lot.</summary>
public sealed record StepUse(int Step, Guid LotId, double Grams);

/// <summary>A step of the card is done.</summary>
[FactKind("can.step.done", 1)]
public sealed record CanStepDone(Guid CanId, int Step) : FactPayload;

/// <summary>A tick is taken back; corrects the fact that set it.</summary>
[FactKind("can.step.undone", 1)]
public sealed record CanStepUndone(Guid CanId, int Step) : FactPayload;

/// <summary>What the pens read. When it corrects an earlier reading, that one no longer counts.</summary>
/// <remarks>Version 1 knew no pens: read by this program, it names none.</remarks>
[FactKind("can.read", 2)]
public sealed record CanRead(
    Guid CanId, int? AfterStep, double? EcMicrosiemensPerCm, double? PH, double? TemperatureCelsius, string? Note, Guid? EcPenId = null, Guid? PHPenId = null) : FactPayload;

/// <summary>The can was poured; what is left stays in it.</summary>
[FactKind("can.poured", 1)]
public sealed record CanPoured(Guid CanId, IReadOnlyList<Poured> Poured, double LitresLeft) : FactPayload;

/// <summary>What one plant got.</summary>
public sealed record Poured(Guid PlantId, double Millilitres);

/// <summary>The pouring did not happen after all; corrects the fact that said so.</summary>
[FactKind("can.pour.undone", 1)]
public sealed record CanPourUndone(Guid CanId) : FactPayload;

/// <summary>Something was added to put the can right. Subject: the can.</summary>
/// <param name="CanId">The can.</param>
/// <param name="Follows">The repair before it that its figures build on; null for the first.</param>
/// <param name="Additions">What the grower says went in.</param>
/// <param name="Warnings">What the can still breaks, in words.</param>
/// <param name="After">What is in the can and what the pens should read from then on.</param>
/// <param name="Uses">What it took from lots; the step is that of the card after all its own.</param>
[FactKind("can.repaired", 1)]
public sealed record CanRepaired(
    Guid CanId, Guid? Follows, IReadOnlyList<RepairAddition> Additions, IReadOnlyList<string> Warnings, CanFigures After, IReadOnlyList<StepUse> Uses) : FactPayload;

/// <summary>The latest repair was not done after all; corrects the fact that said so. Subject: the can.</summary>
[FactKind("can.repair.undone", 1)]
public sealed record CanRepairUndone(Guid CanId) : FactPayload;

/// <summary>The root forecast believed when a plant was fed: written with the feed and never computed again. Subject: the plant.</summary>
/// <param name="PlantId">The plant.</param>
/// <param name="PotId">Its pot at the time.</param>
/// <param name="CanId">The can it was fed from.</param>
/// <param name="FeedFactId">The fact that records the feed; where that is taken back, this forecast counts no more.</param>
/// <param name="Model">The model and its version.</param>
/// <param name="Parameters">The first twelve hexadecimal digits of SHA-256 over setup, climate and parameters as JSON: two forecasts with the same digits are of the same model of the same pot.</param>
/// <param name="Moments">At 0, 1, 2, 3, 5, 7, 10 and 14 days; empty where none could be made.</param>
/// <param name="WhyNone">Why there is none; null where there is one.</param>
[FactKind("root.forecast", 1)]
public sealed record RootForecastBelieved(
    Guid PlantId, Guid PotId, Guid CanId, Guid FeedFactId, string Model, string? Parameters, IReadOnlyList<BelievedMoment> Moments, string? WhyNone) : FactPayload
{
    /// <summary>Mean of the pH at the root over the first days, straight between the moments. A mean of a forecast to read it by; the model itself never averages pH.</summary>
    public double MeanPH(double days) => Mean(days, moment => moment.PH.Value);

    /// <summary>Mean EC at the root over the first days, µS/cm at 25 °C, likewise.</summary>
    public double MeanEcMicrosiemensPerCm(double days) => Mean(days, moment => moment.EcMicrosiemensPerCm.Value);

    private double Mean(double days, Func<BelievedMoment, double> of)
    {
        var (sum, last) = (0.0, Moments[0]);
        foreach (var moment in Moments.Skip(1).Where(moment => moment.Day <= days))
        {
            sum += (moment.Day - last.Day) * (of(moment) + of(last)) / 2;
            last = moment;
        }

        return last.Day > 0 ? sum / last.Day : of(last);
    }
}

/// <summary>The water in a pot on one day of a forecast.</summary>
/// <param name="Day">Since the feed.</param>
/// <param name="PH">At the root, with its band.</param>
/// <param name="EcMicrosiemensPerCm">At the root, at 25 °C, with its band.</param>
/// <param name="MediumLitres">Water in the medium, with the band that the spread of evaporation gives.</param>
/// <param name="ReservoirLitres">Water in the reservoir, likewise.</param>
public sealed record BelievedMoment(double Day, Expected PH, Expected EcMicrosiemensPerCm, Expected MediumLitres, Expected ReservoirLitres);
