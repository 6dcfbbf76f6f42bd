using Rootwater.Growing;

namespace Rootwater.Ledger.Desks;

/// <summary>How the reader wants to see and type quantities, and under which address the program is reached.</summary>
public interface ISettingsDesk
{
    /// <summary>What holds now; the defaults where nothing was set.</summary>
    Task<BenchSettings> GetAsync(CancellationToken cancel = default);

    /// <summary>Sets all of it.</summary>
    /// <param name="units">What is shown and typed; what is kept stays SI.</param>
    /// <param name="baseAddress">Stands inside QR codes: "https://lean-to.local:5443"; null for the address the page was asked under.</param>
    /// <param name="id">The idempotency key.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="EntryException">The address is none that a phone can open.</exception>
    Task<BenchSettings> SaveAsync(ReadersUnits units, string? baseAddress, Guid? id = null, CancellationToken cancel = default);

    /// <summary>Sets how far north or south the bench stands.</summary>
    /// <param name="degrees">−90 to 90, south below 0; null to unsay it.</param>
    /// <param name="id">The idempotency key.</param>
    /// <param name="cancel">Cancels before anything is written.</param>
    /// <exception cref="EntryException">There is no such latitude.</exception>
    Task<BenchSettings> SaveLatitudeAsync(double? degrees, Guid? id = null, CancellationToken cancel = default);
}

/// <summary>The bench's settings.</summary>
/// <param name="Name">Of the bench; null before it is opened.</param>
/// <param name="Zone">IANA name of the zone whose clock the bench keeps.</param>
/// <param name="Now">Minute on that clock.</param>
/// <param name="Units">What is shown and typed.</param>
/// <param name="BaseAddress">Stands inside QR codes; null where none was set.</param>
/// <param name="LatitudeDegrees">−90 to 90, south below 0; null where it was not said. Usual seasons of kinds shift by half a year south of the equator.</param>
public sealed record BenchSettings(string? Name, string Zone, DateTime Now, ReadersUnits Units, string? BaseAddress, double? LatitudeDegrees = null)
{
    /// <summary>Where no latitude was said, the bench is taken to stand north.</summary>
    public bool SouthOfEquator => LatitudeDegrees < 0;

    public DateOnly Today => DateOnly.FromDateTime(Now);
}
