using System.Text.Json.Serialization;
using Rootwater.Chemistry.Species;

namespace Rootwater.Growing.Cupboard.Entry;

/// <summary>How far a new product has come on its way into the cupboard.</summary>
public enum EntryStage
{
    /// <summary>Its label was read and what it must be made of is known. Next: plan a test can.</summary>
    LabelRead,

    /// <summary>A test can is planned. Next: mix it and read it.</summary>
    TestPlanned,

    /// <summary>The test can was read. Next: look at it after a day.</summary>
    TestRead,

    /// <summary>It stayed clear. Next: a few plants of little value.</summary>
    Clear,

    /// <summary>On trial, provisional meanwhile. Next: judge the trial.</summary>
    OnTrial,

    /// <summary>The trial was judged. Next: accept or reject.</summary>
    Judged,
    Accepted,
    Rejected,
}

/// <summary>One recorded step. Steps are facts: none is changed, a wrong one is taken again.</summary>
/// <param name="At">When.</param>
[JsonDerivedType(typeof(TestPlanned), "planned")]
[JsonDerivedType(typeof(TestRead), "read")]
[JsonDerivedType(typeof(TestLookedAt), "looked")]
[JsonDerivedType(typeof(TrialStarted), "trial")]
[JsonDerivedType(typeof(TrialJudged), "judged")]
[JsonDerivedType(typeof(Decided), "decided")]
public abstract record EntryStep(DateTimeOffset At);

/// <summary>A test can in the grower's own water.</summary>
/// <param name="At">When.</param>
/// <param name="GramsPerLitre">Its strength, 0.05 to 20; about that of a feed.</param>
/// <param name="Litres">How much; of powders a large sample, since they segregate.</param>
/// <param name="WaterId">Which water.</param>
/// <param name="WaterMolPerKg">What is in it.</param>
/// <param name="Celsius">At which temperature.</param>
public sealed record TestPlanned(DateTimeOffset At, double GramsPerLitre, double Litres, Guid WaterId, ComponentAmounts WaterMolPerKg, double Celsius = 20) : EntryStep(At);

/// <summary>What the pens read in it.</summary>
/// <param name="At">When.</param>
/// <param name="EcMicrosiemensPerCm">At 25 °C; null when not read.</param>
/// <param name="PH">Null when not read.</param>
public sealed record TestRead(DateTimeOffset At, double? EcMicrosiemensPerCm, double? PH) : EntryStep(At);

/// <summary>The look after a day.</summary>
/// <param name="At">When.</param>
/// <param name="Clear">Neither haze nor grains.</param>
/// <param name="Note">What was seen.</param>
public sealed record TestLookedAt(DateTimeOffset At, bool Clear, string? Note = null) : EntryStep(At);

/// <summary>Plants that get the new product beside matched ones that stay on the old.</summary>
/// <param name="At">When.</param>
/// <param name="Pairs">Matched plants.</param>
/// <param name="Outcome">What will be compared, fixed beforehand.</param>
public sealed record TrialStarted(DateTimeOffset At, IReadOnlyList<TrialPair> Pairs, string Outcome) : EntryStep(At);

/// <summary>Two matched plants.</summary>
/// <param name="New">The one on the new product.</param>
/// <param name="Old">The one that stays on the old.</param>
public sealed record TrialPair(Guid New, Guid Old);

/// <summary>How the trial went.</summary>
/// <param name="At">When.</param>
/// <param name="Worse">Pairs in which the plant on the new product did worse.</param>
/// <param name="Better">Pairs in which it did better.</param>
/// <param name="Note">What was seen.</param>
public sealed record TrialJudged(DateTimeOffset At, int Worse, int Better, string? Note = null) : EntryStep(At);

/// <summary>The end.</summary>
/// <param name="At">When.</param>
/// <param name="Accepted">Taken into the cupboard, or not.</param>
/// <param name="Why">In the grower's words.</param>
public sealed record Decided(DateTimeOffset At, bool Accepted, string Why) : EntryStep(At);
