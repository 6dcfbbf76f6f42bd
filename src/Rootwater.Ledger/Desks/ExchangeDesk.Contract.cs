using Rootwater.Ledger.Exchange;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Ledger.Exchange.Story;

namespace Rootwater.Ledger.Desks;

/// <summary>What leaves the bench and what comes in: tables, the archive, records for others, a calendar, printed sheets, a plant's story.</summary>
public interface IExchangeDesk
{
    /// <summary>Names of the tables: "plants" (a plant a row) and every kind of fact.</summary>
    IReadOnlyList<string> Tables { get; }

    /// <summary>The fields of a table, in the order of its columns.</summary>
    /// <exception cref="EntryException">There is no such table.</exception>
    IReadOnlyList<string> FieldsOf(string table);

    /// <summary>One table as CSV.</summary>
    Task WriteCsvAsync(string table, Stream to, CancellationToken cancel = default);

    /// <summary>All tables as a ZIP of CSV files.</summary>
    Task WriteCsvSetAsync(Stream to, CancellationToken cancel = default);

    /// <summary>What a file's rows would do to the bench, and what is in the way; with <paramref name="write"/>, does it if nothing is.</summary>
    /// <exception cref="EntryException">The file or the mapping cannot be read.</exception>
    Task<CsvReport> ReadCsvAsync(Stream csv, CsvMapping mapping, bool write, CancellationToken cancel = default);

    /// <summary>A set of all tables into an empty bench; the same bench then. Without <paramref name="write"/> it is read, tried and taken back.</summary>
    /// <returns>How many facts.</returns>
    /// <exception cref="EntryException">Refused, and why. Nothing was changed.</exception>
    Task<long> ReadCsvSetAsync(Stream zip, bool write, CancellationToken cancel = default);

    /// <summary>The whole bench with its pictures as one file.</summary>
    Task<ArchiveManifest> WriteArchiveAsync(Stream to, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Looks through an archive; with <paramref name="write"/>, makes an empty bench into it.</summary>
    /// <param name="from">Seekable.</param>
    /// <param name="write">Whether to keep it.</param>
    /// <param name="progress">Told now and then.</param>
    /// <param name="cancel">Cancels; nothing is kept then.</param>
    /// <exception cref="EntryException">Refused, and why. Nothing was changed.</exception>
    Task<ArchiveReceipt> ReadArchiveAsync(Stream from, bool write, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default);

    /// <summary>Plants and blooms as a Darwin Core archive.</summary>
    /// <returns>How many records.</returns>
    Task<int> WriteDarwinCoreAsync(Stream to, CancellationToken cancel = default);

    /// <summary>What is due in the coming weeks and which blooms are expected, as iCalendar.</summary>
    /// <param name="baseAddress">Stands in links when none is set; null for no links.</param>
    /// <param name="cancel">Stops.</param>
    Task<string> CalendarAsync(string? baseAddress = null, CancellationToken cancel = default);

    /// <summary>A plant's tag as PDF, 60 × 30 mm; false where there is no such plant.</summary>
    Task<bool> WriteTagAsync(Guid plantId, Stream to, string? baseAddress = null, CancellationToken cancel = default);

    /// <summary>Tags on sheets of A4; those named, or all that stand here, in walking order.</summary>
    Task WriteTagsAsync(Stream to, IReadOnlyCollection<int>? numbers = null, string? baseAddress = null, CancellationToken cancel = default);

    /// <summary>A can's mixing card as PDF; false where there is no such can.</summary>
    Task<bool> WriteMixingCardAsync(Guid canId, Stream to, string? baseAddress = null, CancellationToken cancel = default);

    /// <summary>A plant's story as one HTML file; null where there is no such plant.</summary>
    Task<string?> StoryAsync(Guid plantId, StoryOptions? options = null, CancellationToken cancel = default);
}
