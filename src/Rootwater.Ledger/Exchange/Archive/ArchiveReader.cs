using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Exchange.Archive;

/// <summary>What came out of an archive.</summary>
/// <param name="Facts">Facts.</param>
/// <param name="Photos">Pictures.</param>
/// <param name="MissingPhotos">Pictures that were missing when the archive was made.</param>
public sealed record ArchiveReceipt(long Facts, int Photos, IReadOnlyList<string> MissingPhotos);

/// <summary>
/// Reads an archive that may have been made by anybody: names outside the few that belong in one, sizes beyond the limits, hashes that do not fit, lines
/// that are no facts and pictures that are more than pictures are refused with the reason, and nothing of it stays.
/// </summary>
public sealed partial class ArchiveReader : IDisposable
{
    private const int FactsAtATime = 1_000;

    private readonly ZipArchive _zip;
    private readonly ArchiveLimits _limits;
    private readonly Dictionary<string, ZipArchiveEntry> _entries = new(StringComparer.Ordinal);
    private long _unpacked;

    private readonly bool _inPool;

    private ArchiveReader(ZipArchive zip, ArchiveLimits limits, bool inPool) => (_zip, _limits, _inPool) = (zip, limits, inPool);

    public ArchiveManifest Manifest { get; private set; } = null!;

    private IEnumerable<string> PhotosWithin => _inPool ? [] : Manifest.Photos;

    /// <summary>Opens an archive and checks its names, sizes and manifest; its parts are checked as they are read.</summary>
    /// <param name="from">Seekable; stays open.</param>
    /// <param name="limits">What is accepted at most.</param>
    /// <exception cref="EntryException">It is refused, and why.</exception>
    public static ArchiveReader Open(Stream from, ArchiveLimits? limits = null) => Open(from, inPool: false, limits);

    /// <summary>With <paramref name="inPool"/>, the archive of a backup: its pictures lie in the pool beside it.</summary>
    internal static ArchiveReader Open(Stream from, bool inPool, ArchiveLimits? limits = null)
    {
        ZipArchive zip;
        try
        {
            zip = new ZipArchive(from, ZipArchiveMode.Read, leaveOpen: true);
            _ = zip.Entries.Count;
        }
        catch (InvalidDataException)
        {
            throw new EntryException("archive", null, "an archive that Rootwater wrote: this file is no whole ZIP");
        }

        var reader = new ArchiveReader(zip, limits ?? new ArchiveLimits(), inPool);
        try
        {
            reader.CheckEntries();
            reader.Manifest = reader.ReadManifest();
            reader.CheckManifest();
            return reader;
        }
        catch
        {
            reader.Dispose();
            throw;
        }
    }

    /// <summary>Reads everything and keeps nothing: hashes, facts, pictures.</summary>
    public Task<ArchiveReceipt> CheckAsync(IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default) => Task.Run(() => Check(progress, cancel), cancel);

    private ArchiveReceipt Check(IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        foreach (var hash in PhotosWithin)
        {
            Picture(hash);
        }

        long facts = 0;
        foreach (var fact in Facts())
        {
            cancel.ThrowIfCancellationRequested();
            FactKinds.Read(fact.Kind, fact.Version, fact.Payload);
            facts = fact.Position;
            Report(progress, facts);
        }

        return new ArchiveReceipt(facts, Manifest.Photos.Count, Manifest.MissingPhotos);
    }

    /// <summary>Makes an empty bench into the one in the archive, exactly: every fact with its position, its stamps and its words.</summary>
    /// <exception cref="EntryException">The archive is refused, or the bench is not empty. Nothing was changed.</exception>
    public async Task<ArchiveReceipt> RestoreAsync(BenchDatabase database, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default)
    {
        await WholeBench.DemandEmptyAsync(database, cancel);
        var store = new PhotoStore(database.PhotosFolder);
        var brought = new List<string>();
        try
        {
            foreach (var hash in PhotosWithin)
            {
                var picture = Picture(hash);
                if (!store.Holds(hash))
                {
                    await store.KeepCleanAsync(hash, picture, cancel);
                    brought.Add(hash);
                }
            }

            await WholeBench.ImportAsync(database, Facts(), Manifest.Facts, write: true, progress, cancel, ownBackup: _inPool);
            return new ArchiveReceipt(Manifest.Facts, Manifest.Photos.Count, Manifest.MissingPhotos);
        }
        catch
        {
            brought.ForEach(store.Remove);
            throw;
        }
    }

    public void Dispose() => _zip.Dispose();

    private IEnumerable<Fact> Facts()
    {
        var photos = Manifest.Photos.Concat(Manifest.MissingPhotos).ToHashSet(StringComparer.Ordinal);
        var ids = new HashSet<Guid>();
        long position = 0;
        foreach (var part in Manifest.Parts)
        {
            using var stream = Unpack(part.Name, _limits.PartBytes);
            using var lines = new StreamReader(stream, new UTF8Encoding(false, throwOnInvalidBytes: true), detectEncodingFromByteOrderMarks: false, bufferSize: 65536);
            long inPart = 0;
            while (NextLine(lines, part.Name) is { } line)
            {
                var fact = FactLine.Read(line, $"{part.Name}, line {++inPart}");
                Demand(fact.Position == ++position, $"{part.Name}, line {inPart}", $"fact {position} here, without gaps");
                Demand(ids.Add(fact.Id), $"{part.Name}, line {inPart}", "an id that stands for one fact only");
                if (fact.Kind == "photo.added" && FactKinds.Read(fact.Kind, fact.Version, fact.Payload) is PhotoAdded added)
                {
                    Demand(photos.Contains(added.Sha256), $"{part.Name}, line {inPart}", "every picture that a fact names");
                }

                yield return fact;
            }

            Demand(inPart == part.Facts, part.Name, $"{part.Facts} facts, as the manifest says");
            Demand(stream.Sha256() == part.Sha256, part.Name, "content that fits the hash in the manifest: it was changed or damaged");
        }

        Demand(position == Manifest.Facts, "manifest.json", $"as many facts as its parts hold ({position})");
    }

    private byte[] Picture(string hash)
    {
        var name = $"photos/{hash}.jpg";
        using var stream = Unpack(name, _limits.PhotoBytes);
        using var kept = new MemoryStream();
        stream.CopyTo(kept);
        var bytes = kept.ToArray();
        Demand(Convert.ToHexStringLower(SHA256.HashData(bytes)) == hash, name, "content that fits its name: it was changed or damaged");
        Demand(PictureSniffer.IsCleanJpeg(bytes), name, "a JPEG as Rootwater keeps them, with nothing but the picture in it");
        return bytes;
    }

    private static string? NextLine(StreamReader lines, string part)
    {
        try
        {
            return lines.ReadLine();
        }
        catch (DecoderFallbackException)
        {
            throw new EntryException("archive", part, "text in UTF-8");
        }
    }

    private void CheckEntries()
    {
        Demand(_zip.Entries.Count <= _limits.Entries, $"{_zip.Entries.Count} parts", $"at most {_limits.Entries}");
        foreach (var entry in _zip.Entries)
        {
            // Names are compared with what belongs here and never become a path.
            Demand(PartName().IsMatch(entry.FullName), entry.FullName, "only manifest.json, facts/NNNNN.jsonl and photos/HASH.jpg in it");
            Demand(_entries.TryAdd(entry.FullName, entry), entry.FullName, "every part once");
            Demand(entry.Length <= (1 << 20) || entry.Length / Math.Max(1, entry.CompressedLength) <= _limits.Ratio, entry.FullName,
                $"parts that unpack to at most {_limits.Ratio} times their size");
        }

        Demand(_entries.Values.Sum(entry => (decimal)entry.Length) <= _limits.Bytes, "archive", $"at most {_limits.Bytes:N0} bytes unpacked");
    }

    private ArchiveManifest ReadManifest()
    {
        using var stream = Unpack("manifest.json", _limits.ManifestBytes);
        try
        {
            using var json = JsonDocument.Parse(stream, new JsonDocumentOptions { MaxDepth = 16 });
            var format = json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty("format", out var name) && name.ValueKind == JsonValueKind.String ? name.GetString() : null;
            Demand(format == ArchiveManifest.FormatName, "manifest.json", $"the format \"{ArchiveManifest.FormatName}\"");
            var version = json.RootElement.TryGetProperty("version", out var number) && number.TryGetInt32(out var n) ? n : 0;
            return version > ArchiveManifest.NewestVersion
                ? throw new LedgerProblem(LedgerFault.NewerThanProgram, $"The archive has version {version}; this Rootwater reads up to {ArchiveManifest.NewestVersion}. Use the newer Rootwater that wrote it.")
                : json.RootElement.Deserialize<ArchiveManifest>(FactJson.Options)!;
        }
        catch (JsonException wrong)
        {
            throw new EntryException("archive", "manifest.json", $"a manifest as Rootwater writes it ({wrong.Message})");
        }
    }

    private void CheckManifest()
    {
        var wanted = new HashSet<string>(StringComparer.Ordinal) { "manifest.json" };
        Demand(Manifest is { Parts: not null, Photos: not null, MissingPhotos: not null } && Manifest.Parts.All(part => part is { Name: not null, Sha256: not null }), "manifest.json", "a list of parts and of pictures");
        Demand(Manifest.Version >= 1 && Manifest.Facts >= 0, "manifest.json", "a version of 1 and up and a number of facts");
        Demand(Manifest.Photos.Concat(Manifest.MissingPhotos).All(PhotoStore.IsHash), "manifest.json", "pictures named by their hash");
        foreach (var name in Manifest.Parts.Select(part => part.Name).Concat(PhotosWithin.Select(hash => $"photos/{hash}.jpg")))
        {
            Demand(wanted.Add(name) && _entries.ContainsKey(name), name, "every part that the manifest names, once");
        }

        Demand(wanted.Count == _entries.Count, _entries.Keys.FirstOrDefault(name => !wanted.Contains(name)) ?? "archive", "no part that the manifest does not name");
    }

    private CheckedStream Unpack(string name, long most)
    {
        Demand(_entries.TryGetValue(name, out var entry), name, "this part in it");
        try
        {
            return new CheckedStream(entry!.Open(), name, most, read => Demand((_unpacked += read) <= _limits.Bytes, name, $"at most {_limits.Bytes:N0} bytes unpacked in all"));
        }
        catch (InvalidDataException broken)
        {
            throw new EntryException("archive", name, $"a whole part: this one is broken ({broken.Message})");
        }
    }

    private void Report(IProgress<ExchangeProgress>? progress, long facts)
    {
        if (facts % FactsAtATime == 0 || facts == Manifest.Facts)
        {
            progress?.Report(new ExchangeProgress("facts", facts, Manifest.Facts));
        }
    }

    private static void Demand([System.Diagnostics.CodeAnalysis.DoesNotReturnIf(false)] bool holds, string what, string accepted)
    {
        if (!holds)
        {
            throw new EntryException("archive", what.Length > 200 ? what[..200] + " …" : what, accepted);
        }
    }

    [GeneratedRegex(@"\A(manifest\.json|facts/[0-9]{5}\.jsonl|photos/[0-9a-f]{64}\.jpg)\z")]
    private static partial Regex PartName();
}
