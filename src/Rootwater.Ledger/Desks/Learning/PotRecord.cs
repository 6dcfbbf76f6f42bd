using Rootwater.Chemistry.Species;
using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>One pot with all the ledger says of it, as the calibration reads it.</summary>
/// <param name="Standing">The plant in its pot.</param>
/// <param name="Want">What the plant wants; null where none was chosen.</param>
/// <param name="Origin">The local minute that is hour 0 of the record.</param>
/// <param name="History">Null where the pot model has no values for its medium or sizes; <paramref name="WhyNone"/> then says so.</param>
/// <param name="WhyNone">In words.</param>
/// <param name="LeftOut">Readings that cannot be, kept in the ledger and not fitted: what was read and why.</param>
/// <param name="Leaches">When it was leached, hours of the record.</param>
/// <param name="LastFeed">The feed it got last; null where it got none.</param>
internal sealed record PotRecord(
    Standing Standing, Want? Want, DateTime Origin, PotHistory? History, string? WhyNone, IReadOnlyList<string> LeftOut, IReadOnlyList<double> Leaches,
    ComponentAmounts? LastFeed)
{
    public PotRow Pot => Standing.Pot;

    public PlantRow Plant => Standing.Plant;

    public DateTime At(double hours) => Origin.AddHours(hours);

    /// <summary>Whether a fit of the other record is a fit of this one.</summary>
    public bool SaysTheSame(PotRecord? other) => other is { History: { } theirs } && History is { } mine && Origin == other.Origin
        && mine.Setup == theirs.Setup && mine.Climate == theirs.Climate && mine.Air.SequenceEqual(theirs.Air) && mine.Readings.SequenceEqual(theirs.Readings) && mine.Events.SequenceEqual(theirs.Events);
}
