using System.Globalization;
using System.Text.Json;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Backup;

/// <summary>
/// Backups as they lie: a folder each, named by its moment, and one pool of pictures for all. A picture never changes, so it is copied once and goes
/// when the last backup that names it goes.
/// </summary>
internal sealed class BackupFolder(string path)
{
    private const string HeadName = "backup.json";
    private const string NameFormat = "yyyyMMdd'T'HHmmssfff'Z'";

    public string Path { get; } = path;

    public PhotoStore Photos { get; } = new(System.IO.Path.Combine(path, "photos"));

    public string PathOf(string name, string file) => System.IO.Path.Combine(Path, name, file);

    public static string NameAt(DateTimeOffset moment) => moment.UtcDateTime.ToString(NameFormat, CultureInfo.InvariantCulture);

    public static DateTimeOffset? MomentOf(string name) =>
        DateTimeOffset.TryParseExact(name, NameFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var moment) ? moment : null;

    /// <summary>Newest first. Folders of other names are somebody else's and left alone.</summary>
    public IReadOnlyList<string> Names() => Directory.Exists(Path)
        ? [.. Directory.EnumerateDirectories(Path).Select(folder => System.IO.Path.GetFileName(folder)).Where(name => MomentOf(name) is not null).OrderDescending(StringComparer.Ordinal)]
        : [];

    /// <exception cref="EntryException">There is none of that name, or none at all.</exception>
    public string Find(string? name)
    {
        var names = Names();
        return names.FirstOrDefault(one => name is null or "latest" || one == name)
            ?? throw new EntryException("backup", name ?? "latest", names.Count == 0 ? $"a backup, of which there is none in {Path}" : $"one of {string.Join(", ", names.Take(5))}{(names.Count > 5 ? " …" : "")}");
    }

    /// <exception cref="LedgerProblem">Its head cannot be read.</exception>
    public BackupManifest Head(string name)
    {
        try
        {
            var head = FactJson.Read<BackupManifest>(File.ReadAllText(PathOf(name, HeadName)));
            return head.Version <= BackupManifest.NewestVersion && head.File is "bench.db" or "bench.zip" && head.Photos.All(PhotoStore.IsHash)
                ? head
                : throw new LedgerProblem(LedgerFault.NewerThanProgram, $"The backup {name} was made by a newer Rootwater, or its {HeadName} was changed. Use the Rootwater that made it.");
        }
        catch (Exception wrong) when (wrong is JsonException or IOException or UnauthorizedAccessException or ArgumentNullException)
        {
            throw new LedgerProblem(LedgerFault.Corrupt, $"The backup {name} in {Path} cannot be read ({wrong.Message}). Use another one.", wrong);
        }
    }

    /// <summary>A backup in a line, with what is wrong with its head.</summary>
    public BackupView View(string name)
    {
        try
        {
            var head = Head(name);
            return new BackupView(name, head.MadeAt, head.Facts, head.Photos.Count, head.Bytes, null);
        }
        catch (LedgerProblem problem)
        {
            return new BackupView(name, MomentOf(name)!.Value, 0, 0, 0, problem.Message);
        }
    }

    public void WriteHead(string folder, BackupManifest head)
    {
        using var file = new FileStream(PathOf(folder, HeadName), FileMode.Create, FileAccess.Write);
        JsonSerializer.Serialize(file, head, FactJson.Options);
        file.Flush(flushToDisk: true);
    }

    /// <summary>Removes what is not kept, and pictures that no backup names any more.</summary>
    public void Prune(BackupRetention retention)
    {
        var names = Names();
        var kept = retention.Keep(names.Select(name => MomentOf(name)!.Value));
        foreach (var name in names.Where(name => !kept.Contains(MomentOf(name)!.Value)))
        {
            Directory.Delete(System.IO.Path.Combine(Path, name), recursive: true);
        }

        HashSet<string> named;
        try
        {
            named = [.. Names().Select(Head).SelectMany(head => head.Photos)];
        }
        catch (LedgerProblem)
        {
            // One that cannot be read may still name pictures: better too many kept than one too few.
            return;
        }

        foreach (var hash in Photos.All().Where(hash => !named.Contains(hash)).ToList())
        {
            Photos.Remove(hash);
        }
    }
}
