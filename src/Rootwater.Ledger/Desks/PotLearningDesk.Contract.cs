using Rootwater.Growing;
using Rootwater.Growing.Pots.Calibration;

namespace Rootwater.Ledger.Desks;

/// <summary>What the pots' readings teach: each pot's medium, water loss and uptake, its forecast, and how to pour for it.</summary>
/// <remarks>
/// The fit is kept in hand and follows the ledger in the background; nothing here waits for it but <see cref="RefreshAsync"/>. What is shown is the fit so far, and it says up to where.
/// </remarks>
public interface IPotLearningDesk
{
    /// <summary>Every pot that holds a plant, in walking order, with what is known so far.</summary>
    Task<PotsSheet> ListAsync(CancellationToken cancel = default);

    /// <summary>One pot; null where no plant of that number stands in one.</summary>
    Task<PotSheet?> GetAsync(int plantNumber, CancellationToken cancel = default);

    /// <summary>How to pour for one pot, under what is not known; seconds of work, kept until its record changes.</summary>
    /// <exception cref="EntryException">No such pot, no want, or no model of it.</exception>
    Task<PourSheet> PourAsync(int plantNumber, IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>How to pour for all pots that share a want and a way of growing with this plant's, and what treating them alike costs.</summary>
    /// <exception cref="EntryException">No such pot, no want, or no model of it.</exception>
    Task<PourSheet> PourGroupAsync(int plantNumber, IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Brings the fit up to the ledger, the first time from the beginning.</summary>
    /// <exception cref="OperationCanceledException">It was stopped; the fit so far stands.</exception>
    Task RefreshAsync(IProgress<CalibrationProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>The same in the background, if it is behind; returns at once.</summary>
    void RefreshSoon();

    /// <summary>Stops what runs in the background; the fit so far stands, and the next reading starts it again.</summary>
    void Stop();

    /// <summary>Looks at a reading before it is kept: what cannot be, and what was probably meant.</summary>
    Task<IReadOnlyList<InputProblem>> CheckAsync(NewPotReading reading, CancellationToken cancel = default);

    /// <summary>Keeps a reading of a pot's reservoir or run-off.</summary>
    /// <exception cref="EntryException">It cannot be; the message offers what was probably meant.</exception>
    Task<Guid> ReadAsync(NewPotReading reading, CancellationToken cancel = default);

    /// <summary>Looks at a soak test before it is kept.</summary>
    IReadOnlyList<InputProblem> CheckSoak(NewSoak soak);

    /// <summary>Keeps a soak test of bare medium; it counts as readings of that medium.</summary>
    /// <exception cref="EntryException">It cannot be; the message offers what was probably meant.</exception>
    Task<Guid> SoakAsync(NewSoak soak, CancellationToken cancel = default);
}

/// <summary>How far the fit is.</summary>
/// <param name="Fitted">There is a fit to show.</param>
/// <param name="UpToDate">It knows all that the ledger says.</param>
/// <param name="Share">0 to 1 of what runs now; null when nothing runs.</param>
/// <param name="Words">What is being done, or what stands.</param>
public sealed record FitState(bool Fitted, bool UpToDate, double? Share, string Words);

/// <summary>All pots.</summary>
public sealed record PotsSheet
{
    public required FitState State { get; init; }
    public required IReadOnlyList<PotLine> Pots { get; init; }

    /// <summary>What the pots of each medium have in common.</summary>
    public required IReadOnlyList<MediumLine> Media { get; init; }

    /// <summary>Pots due for new medium: first those whose window is open, then by how far they are.</summary>
    public required IReadOnlyList<PotLine> Due { get; init; }

    /// <summary>Medium to have ready for the pots that are due and whose window is open, and for all that are due.</summary>
    public required IReadOnlyList<string> MediumWanted { get; init; }
    public required ScoreSheet Score { get; init; }

    /// <summary>Soak tests, newest first.</summary>
    public required IReadOnlyList<SoakLine> Soaks { get; init; }
}

/// <summary>A pot in the list.</summary>
public sealed record PotLine
{
    public required Guid PotId { get; init; }
    public required Guid PlantId { get; init; }
    public required int PlantNumber { get; init; }
    public required string PlantName { get; init; }
    public required string Place { get; init; }
    public required string Medium { get; init; }
    public required string Culture { get; init; }
    public required double MediumLitres { get; init; }
    public required double ReservoirLitres { get; init; }
    public required DateOnly PottedOn { get; init; }

    /// <summary>What it does to a feed, in a sentence; null while nothing was fitted.</summary>
    public string? Lift { get; init; }

    /// <summary>pH at the root two days after a feed of <see cref="PouredPH"/>, 90 % band; null while nothing was fitted or no model fits it.</summary>
    public Expected? RootPHAfterTwoDays { get; init; }
    public double PouredPH { get; init; }

    /// <summary>Values read of this pot that the fit uses: EC, pH and level each count.</summary>
    public required int Readings { get; init; }

    /// <summary>Other pots of its medium that were read.</summary>
    public required int Siblings { get; init; }

    /// <summary>Whose forecast it is: its own, its siblings', the data sheet's, or none.</summary>
    public required ForecastOf ForecastOf { get; init; }

    /// <summary>What stands out: a change, readings that went wrong, base nearly spent, readings left out.</summary>
    public required IReadOnlyList<string> Flags { get; init; }

    /// <summary>How far towards new medium, 0 to 1.</summary>
    public required double RepottingDue { get; init; }

    /// <summary>Due, and new roots are showing.</summary>
    public required bool RepotNow { get; init; }
    public required string Repotting { get; init; }
}

/// <summary>Whose readings a forecast stands on.</summary>
public enum ForecastOf
{
    ItsReadings,
    ItsSiblings,
    DataSheet,
    Nothing,
}

/// <summary>One pot with all that is known of it.</summary>
public sealed record PotSheet
{
    public required FitState State { get; init; }
    public required PotLine Line { get; init; }

    /// <summary>What was fitted, in sentences; what the readings cannot tell is among them.</summary>
    public required IReadOnlyList<string> Words { get; init; }
    public required IReadOnlyList<TraitLine> Traits { get; init; }
    public required IReadOnlyList<PotChange> Changes { get; init; }

    /// <summary>What fits of the record and the coming days say each pen would read; empty where nothing was fitted.</summary>
    public required IReadOnlyList<PotTrack> Tracks { get; init; }

    /// <summary>Pots of the same medium, nearest number first.</summary>
    public required IReadOnlyList<PotLine> Siblings { get; init; }

    /// <summary>Share of the fresh medium's base that is left, 0 to 1, 90 % interval; null where nothing tells.</summary>
    public Expected? BaseLeft { get; init; }

    /// <summary>What to have ready to repot it.</summary>
    public required IReadOnlyList<string> MediumWanted { get; init; }

    /// <summary>Readings in the ledger that cannot be and are not fitted.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }
    public required IReadOnlyList<string> Assumptions { get; init; }
}

/// <summary>A trait of a pot.</summary>
/// <param name="Name">In words.</param>
/// <param name="Value">Middle and 90 % interval: a factor on the data sheet, or pH above it.</param>
/// <param name="Siblings">The same before its own readings.</param>
/// <param name="IsFactor">False for the resting pH.</param>
/// <param name="Known">Who tells it.</param>
public sealed record TraitLine(string Name, Expected Value, Expected Siblings, bool IsFactor, Knowledge Known);

/// <summary>A change in what a pot does, found in its readings.</summary>
public sealed record PotChange(DateOnly About, DateOnly Earliest, DateOnly Latest, double Certainty, string Words);

/// <summary>What one pen would read in a pot over time, and what it did read.</summary>
/// <param name="Kind">Which pen, where.</param>
/// <param name="Now">The moment up to which the ledger has been read.</param>
/// <param name="Band">90 % bands, the pen's own error in them; µS/cm, pH or litres. Before <paramref name="Now"/> the fit knows the readings; after it nothing does.</param>
/// <param name="Readings">As read.</param>
public sealed record PotTrack(ReadingKind Kind, DateTime Now, IReadOnlyList<(DateTime At, Expected Band)> Band, IReadOnlyList<ReadPoint> Readings);

/// <summary>A reading on a track.</summary>
/// <param name="At">Local time.</param>
/// <param name="Value">µS/cm, pH or litres.</param>
/// <param name="Inside">Inside its band.</param>
/// <param name="WentWrong">Chance that it went wrong, 0 to 1.</param>
/// <param name="Weight">What it counted for, above 0 to 1.</param>
public sealed record ReadPoint(DateTime At, double Value, bool Inside, double WentWrong, double Weight);

/// <summary>What the pots of a medium have in common.</summary>
public sealed record MediumLine(string Medium, int Pots, IReadOnlyList<TraitLine> Traits, string Scatter);

/// <summary>How often bands were right.</summary>
/// <param name="Recorded">Forecasts that were written when a feed was poured, against what was read before the next one; in the ledger, never computed again.</param>
/// <param name="AsTheyCame">Each reading since the program started, against the band believed just before it arrived.</param>
/// <param name="HeldBack">A fit of the bench without the last visit to each pot, against that visit, the bands of each half of the pots widened by what the other half shows; null until it was computed.</param>
/// <param name="Corrected">How forecasts recorded from now on are corrected for what earlier ones of such pots were off by, a sentence for each kind of pot.</param>
public sealed record ScoreSheet(ForecastScore Recorded, ForecastScore AsTheyCame, ForecastScore? HeldBack, IReadOnlyList<string> Corrected);

/// <summary>How to pour.</summary>
/// <param name="PH">pH to pour at.</param>
/// <param name="Strength">Relative to the feed.</param>
/// <param name="Pots">Each pot with the shared can and with one of its own, the one that loses most first.</param>
/// <param name="DaysAWeekLost">What treating all alike costs the mean pot.</param>
/// <param name="Words">In sentences.</param>
/// <param name="Feed">Which feed was looked at.</param>
public sealed record PourSheet(double PH, double Strength, IReadOnlyList<PourLine> Pots, double DaysAWeekLost, IReadOnlyList<string> Words, string Feed);

/// <summary>What a shared can and a can of its own bring one pot.</summary>
public sealed record PourLine(int PlantNumber, string PlantName, PourOutcome Shared, PourOutcome Own, double DaysAWeekLost);

/// <summary>A reading of a pot as typed.</summary>
public sealed record NewPotReading
{
    public required Guid Id { get; init; }
    public required int PlantNumber { get; init; }

    /// <summary>False for what ran out below.</summary>
    public bool OfReservoir { get; init; } = true;

    /// <summary>µS/cm at 25 °C.</summary>
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }

    /// <summary>Water left in the reservoir, litres.</summary>
    public double? LevelLitres { get; init; }
    public string? Note { get; init; }
}

/// <summary>A soak test as typed.</summary>
public sealed record NewSoak
{
    public required Guid Id { get; init; }
    public required string Medium { get; init; }
    public required double MediumLitres { get; init; }
    public required double WaterLitres { get; init; }

    /// <summary>The water it stood in; null for pure water.</summary>
    public Guid? WaterId { get; init; }
    public double Hours { get; init; } = 24;
    public double Celsius { get; init; } = 21;
    public double? EcMicrosiemensPerCm { get; init; }
    public double? PH { get; init; }

    /// <summary>Drops of KH times 0.357.</summary>
    public double? AlkalinityMeqPerLitre { get; init; }

    /// <summary>The day it was read; null for today.</summary>
    public DateOnly? On { get; init; }
}

/// <summary>A soak test in the ledger.</summary>
public sealed record SoakLine(Guid FactId, DateOnly On, string Medium, double MediumLitres, double WaterLitres, double Hours, double? EcMicrosiemensPerCm, double? PH, double? AlkalinityMeqPerLitre, string Gained);
