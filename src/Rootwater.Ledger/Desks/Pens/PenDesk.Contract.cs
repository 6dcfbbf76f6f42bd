using Rootwater.Growing;
using Rootwater.Growing.Mixing.Reconciliation;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The pens of the bench: what they are, what they read in their standards, what that says of their readings, and when they are due again.</summary>
public interface IPenDesk
{
    /// <summary>By name; those no longer used last.</summary>
    Task<IReadOnlyList<PenView>> ListAsync(CancellationToken cancel = default);

    /// <summary>Keeps a pen. One of that id is known anew from now on.</summary>
    /// <exception cref="EntryException">Names every field that cannot be.</exception>
    Task<PenView> SaveAsync(Pen pen, Guid? idempotencyKey = null, CancellationToken cancel = default);

    /// <summary>Writes down that a pen was held into buffers or standards.</summary>
    /// <exception cref="EntryException">Names every field that cannot be, with what was probably meant.</exception>
    Task<PenView> CalibrateAsync(NewPenCalibration calibration, CancellationToken cancel = default);

    /// <summary>Takes a calibration of the last hour back.</summary>
    Task UndoAsync(Guid calibrationId, CancellationToken cancel = default);
}

/// <summary>A pen held into what is known.</summary>
public sealed record NewPenCalibration
{
    /// <summary>Made by whoever enters it; the idempotency key.</summary>
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid PenId { get; init; }

    /// <summary>What was read in each before anything was adjusted.</summary>
    public required IReadOnlyList<StandardRead> Standards { get; init; }

    /// <summary>The pen was set to them afterwards.</summary>
    public bool Adjusted { get; init; }

    /// <summary>The day; null for now.</summary>
    public DateOnly? On { get; init; }
    public string? Note { get; init; }
}

/// <summary>A pen with its log.</summary>
public sealed record PenView
{
    public required Pen Pen { get; init; }

    /// <summary>Newest first.</summary>
    public required IReadOnlyList<CalibrationView> Log { get; init; }

    /// <summary>How far it is off now, from its log and the cans together, with the 95 % band: a share (EC) or pH, above zero reads too high. Null where nothing was learned yet.</summary>
    public required Expected? Off { get; init; }

    /// <summary>A pH pen's slope: share by which the distance from 7 is shown too large; null for an EC pen.</summary>
    public required Expected? Slope { get; init; }

    /// <summary>What that does to a reading, in a sentence.</summary>
    public required string Effect { get; init; }
    public required DateOnly DueOn { get; init; }
    public required bool IsDue { get; init; }

    /// <summary>Why then, in a sentence.</summary>
    public required string DueWords { get; init; }

    /// <summary>Kept cans it was held into.</summary>
    public required int CansRead { get; init; }
}

/// <summary>A line of a pen's log.</summary>
/// <param name="Id">Of its fact.</param>
/// <param name="On">The day.</param>
/// <param name="Standards">What was read in each.</param>
/// <param name="Adjusted">The pen was set afterwards.</param>
/// <param name="DriftPerMonth">How far it moved since the calibration before, in a month: a share or pH; null for the first, or within a week of it.</param>
/// <param name="Note">In the grower's words.</param>
/// <param name="CanBeUndone">Entered within the last hour.</param>
public sealed record CalibrationView(Guid Id, DateOnly On, IReadOnlyList<StandardView> Standards, bool Adjusted, double? DriftPerMonth, string? Note, bool CanBeUndone);

/// <summary>One buffer or standard: what it is at its temperature, as this pen should show it, and what the pen showed.</summary>
/// <param name="At25">As printed for 25 °C: pH or µS/cm.</param>
/// <param name="Celsius">Its temperature.</param>
/// <param name="Expected">What a pen without error shows.</param>
/// <param name="Reading">What this one showed.</param>
/// <param name="Off">The difference: pH, or a share.</param>
public sealed record StandardView(double At25, double Celsius, double Expected, double Reading, double Off);
