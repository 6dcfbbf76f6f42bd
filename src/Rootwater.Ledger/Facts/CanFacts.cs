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
