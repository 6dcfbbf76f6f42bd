using System.Globalization;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Exchange.Archive;

/// <summary>Writes a whole bench into one file: its facts as JSON lines, its pictures, and a manifest with the hash of each.</summary>
public static class ArchiveWriter
{
    private const int FactsInAPart = 20_000;

    // A recorded forecast has four thousand characters.
    private const int FactsAtATime = 250;

    /// <param name="database">The bench.</param>
    /// <param name="to">Where the archive goes; need not be seekable.</param>
    /// <param name="now">Stamped into the manifest.</param>
    /// <param name="withPhotos">False leaves the pictures to be kept elsewhere (a backup's pool).</param>
    /// <param name="progress">Told now and then.</param>
    /// <param name="cancel">Cancels; what was written by then is no archive.</param>
    public static async Task<ArchiveManifest> WriteAsync(
        BenchDatabase database, Stream to, DateTimeOffset now, bool withPhotos = true, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default)
    {
        var photos = new PhotoStore(database.PhotosFolder);
        var (last, name) = await database.ReadAsync(async db => (
            await NewestFact.PositionAsync(db, cancel), (await db.Benches.FirstOrDefaultAsync(cancel))?.Name), cancel);
        using var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true);
        var named = new SortedSet<string>(StringComparer.Ordinal);
        var parts = new List<ArchivePart>();
        for (long from = 0; from < last;)
        {
            var (part, upTo) = await PartAsync(database, zip, parts.Count + 1, from, last, named, cancel);
            parts.Add(part);
            from = upTo;
            progress?.Report(new ExchangeProgress("facts", from, last));
        }

        var (within, missing) = (new List<string>(), new List<string>());
        foreach (var hash in named)
        {
            (photos.Holds(hash) ? within : missing).Add(hash);
        }

        foreach (var (hash, at) in withPhotos ? within.Select((hash, at) => (hash, at)) : [])
        {
            await using var picture = (await photos.OpenAsync(hash, thumbnail: false, cancel))!;
            // A JPEG does not pack any further.
            await using var entry = zip.CreateEntry($"photos/{hash}.jpg", CompressionLevel.NoCompression).Open();
            await picture.CopyToAsync(entry, cancel);
            progress?.Report(new ExchangeProgress("photos", at + 1, within.Count));
        }

        var manifest = new ArchiveManifest
        {
            Format = ArchiveManifest.FormatName,
            Version = ArchiveManifest.NewestVersion,
            Program = $"Rootwater {typeof(ArchiveWriter).Assembly.GetName().Version?.ToString(3)}",
            MadeAt = now,
            BenchName = name,
            Facts = last,
            Parts = parts,
            Photos = within,
            MissingPhotos = missing,
        };
        await using var head = zip.CreateEntry("manifest.json", CompressionLevel.Optimal).Open();
        await JsonSerializer.SerializeAsync(head, manifest, FactJson.Options, cancel);
        return manifest;
    }

    private static async Task<(ArchivePart Part, long UpTo)> PartAsync(
        BenchDatabase database, ZipArchive zip, int number, long from, long last, SortedSet<string> photos, CancellationToken cancel)
    {
        var name = string.Create(CultureInfo.InvariantCulture, $"facts/{number:00000}.jsonl");
        await using var entry = zip.CreateEntry(name, CompressionLevel.Fastest).Open();
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using var buffer = new MemoryStream();
        await using var writer = new Utf8JsonWriter(buffer, new JsonWriterOptions { SkipValidation = true, Encoder = FactJson.Options.Encoder });
        var position = from;
        var upTo = Math.Min(last, from + FactsInAPart);
        while (position < upTo)
        {
            var facts = await database.ReadAsync(
                db => db.Facts.Where(fact => fact.Position > position && fact.Position <= upTo).OrderBy(fact => fact.Position).Take(FactsAtATime).ToListAsync(cancel), cancel);
            foreach (var fact in facts)
            {
                if (fact.Position != ++position)
                {
                    throw new LedgerProblem(LedgerFault.Corrupt, $"Fact {position} is missing from {database.Name}. Restore the newest backup.");
                }

                FactLine.Write(writer, fact);
                writer.Flush();
                writer.Reset();
                buffer.WriteByte((byte)'\n');
                if (fact.Kind == "photo.added" && FactKinds.Read(fact.Kind, fact.Version, fact.Payload) is PhotoAdded added)
                {
                    photos.Add(added.Sha256);
                }
            }

            hash.AppendData(buffer.GetBuffer().AsSpan(0, (int)buffer.Length));
            buffer.WriteTo(entry);
            buffer.SetLength(0);
            if (facts.Count == 0)
            {
                throw new LedgerProblem(LedgerFault.Corrupt, $"Fact {position + 1} is missing from {database.Name}. Restore the newest backup.");
            }
        }

        return (new ArchivePart(name, position - from, Convert.ToHexStringLower(hash.GetHashAndReset())), position);
    }
}
