using Rootwater.Growing;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Mixing.Reconciliation;

namespace Rootwater.Ledger.Desks;

/// <summary>What the pens read in every kept can beside what they should have read, what that taught of lots, waters, tools and pens, and what would explain a can that is off.</summary>
/// <remarks>Kept in hand by the place the ledger has reached: once worked out, a new reading costs that can alone.</remarks>
public interface ICanHistoryDesk
{
    /// <summary>Cans, newest first, with the control chart and what is believed now.</summary>
    Task<CanHistoryView> ListAsync(int most = 100, CancellationToken cancel = default);

    /// <summary>One can with what would explain it; null when there is none of that id.</summary>
    Task<CanExplained?> GetAsync(Guid canId, CancellationToken cancel = default);

    /// <summary>What is believed of every lot, water, scale, syringe, vessel and pen met so far; those met last come first.</summary>
    Task<IReadOnlyList<CorrectionLine>> CorrectionsAsync(CancellationToken cancel = default);

    /// <summary>What the pens should read in a can that is planned or just being mixed, by its card and by what earlier cans taught. Nothing is kept.</summary>
    Task<LearnedReading> ExpectAsync(CanPlan can, CancellationToken cancel = default);
}

/// <summary>How a can came out against what was believed when it was mixed.</summary>
public enum CanMark
{
    /// <summary>No pen was held into it yet.</summary>
    NotRead,

    /// <summary>Within two standard deviations of what was believed.</summary>
    Quiet,

    /// <summary>Beyond two of them: looked at, no more.</summary>
    Warns,

    /// <summary>Beyond three, or the moving mean has left its limit.</summary>
    Out,
}

/// <summary>The history of cans.</summary>
/// <param name="Lines">Newest first.</param>
/// <param name="Cans">How many are kept in all.</param>
/// <param name="Read">How many of them were read.</param>
/// <param name="Limits">Of the control chart.</param>
/// <param name="Corrections">What is told now: those whose 95 % band leaves zero out.</param>
public sealed record CanHistoryView(IReadOnlyList<CanHistoryLine> Lines, int Cans, int Read, ChartLimits Limits, IReadOnlyList<CorrectionLine> Corrections);

/// <summary>The control limits, in standard deviations of what was believed.</summary>
/// <param name="Warning">One reading beyond it is looked at.</param>
/// <param name="Out">One reading beyond it is out of control.</param>
/// <param name="Moving">The moving mean of deviations (weight 0.25 on the latest) beyond it: the process has moved.</param>
/// <param name="FalseAlarmShare">Share of cans that are called out although nothing is wrong but what is always a little wrong, as simulated (docs/science/reconciliation.md).</param>
public sealed record ChartLimits(double Warning, double Out, double Moving, double FalseAlarmShare)
{
    public static ChartLimits Usual { get; } = new(2, 3, Reconciler.MovingLimit, 0.0004);
}

/// <summary>A can's line of the history. EC as the grower's own pen shows it, µS/cm; bands are 95 %.</summary>
public sealed record CanHistoryLine
{
    public required Guid CanId { get; init; }
    public required string Letter { get; init; }
    public required string Vessel { get; init; }
    public required double Litres { get; init; }
    public required DateOnly MixedOn { get; init; }
    public required CanMark Mark { get; init; }

    /// <summary>By its card: labels, reports and every source of error.</summary>
    public required Expected EcByCard { get; init; }

    /// <summary>The same with what earlier cans and calibrations had taught when it was mixed.</summary>
    public required Expected EcAsLearned { get; init; }

    /// <summary>What the pen read; null where not read.</summary>
    public required double? MeasuredEc { get; init; }
    public required Expected PHByCard { get; init; }
    public required Expected PHAsLearned { get; init; }
    public required double? MeasuredPH { get; init; }

    /// <summary>Standard deviations from what was believed; null where not read.</summary>
    public required double? EcDeviation { get; init; }
    public required double? PHDeviation { get; init; }

    /// <summary>Moving means of them up to this can.</summary>
    public required double EcMoving { get; init; }
    public required double PHMoving { get; init; }

    /// <summary>The most likely explanation; null where nothing needs explaining.</summary>
    public required string? Likeliest { get; init; }
    public bool EcInCard => MeasuredEc is not { } ec || (ec >= EcByCard.Low && ec <= EcByCard.High);
    public bool PHInCard => MeasuredPH is not { } ph || (ph >= PHByCard.Low && ph <= PHByCard.High);
}

/// <summary>One can with what would explain it.</summary>
public sealed record CanExplained
{
    public required CanHistoryLine Line { get; init; }

    /// <summary>Most likely first; empty where nothing needs explaining.</summary>
    public required IReadOnlyList<Explanation> Explanations { get; init; }

    /// <summary>The same in the order to check them: the most chance for a minute's work first.</summary>
    public required IReadOnlyList<Explanation> CheckFirst { get; init; }

    /// <summary>What was known before and is in the expected readings already, largest effect first.</summary>
    public required IReadOnlyList<string> KnownAlready { get; init; }

    /// <summary>In a sentence.</summary>
    public required string Words { get; init; }
    public required string EcPen { get; init; }
    public required string PHPen { get; init; }

    /// <summary>Cans read before this one: without any there is no history to explain by.</summary>
    public required int ReadBefore { get; init; }
}

/// <summary>What is believed of one lot, water, tool or pen.</summary>
/// <param name="Kind">What sort of error.</param>
/// <param name="Id">Lot, water, vessel or pen id; a word for a tool.</param>
/// <param name="Name">"magnesium nitrate, bought 2026-03-01".</param>
/// <param name="Value">With its 95 % band: a share (0.02 is 2 % more), pH, or meq/L for a water's alkalinity; for a lot's acidity in its label's own spreads.</param>
/// <param name="Unit">"share", "pH", "meq/L" or "spreads".</param>
/// <param name="Cans">In how many cans it had a part.</param>
/// <param name="LastOn">When it was last met.</param>
/// <param name="IsTold">The band leaves zero out: only then is it worth correcting for.</param>
/// <param name="Words">In a sentence.</param>
public sealed record CorrectionLine(ErrorSourceKind Kind, string Id, string Name, Expected Value, string Unit, int Cans, DateOnly LastOn, bool IsTold, string Words);
