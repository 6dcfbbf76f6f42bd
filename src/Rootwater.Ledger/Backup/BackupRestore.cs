using System.Globalization;
using Rootwater.Ledger.Exchange;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Photos;
using Rootwater.Ledger.Postgres;

namespace Rootwater.Ledger.Backup;

/// <summary>Puts a backup in the place of the bench. What stood there is kept under another name and never thrown away here.</summary>
public static class BackupRestore
{
    /// <summary>Backups of a bench that need not be there any more, newest first.</summary>
    public static async Task<IReadOnlyList<BackupView>> ListAsync(LedgerOptions options)
    {
        var folder = new BackupFolder((await BenchDatabase.PlaceOfAsync(options)).BackupFolder);
        return [.. folder.Names().Select(folder.View)];
    }

    /// <summary>Opens a backup of such a bench and looks whether it could be restored whole.</summary>
    /// <exception cref="EntryException">There is none of that name.</exception>
    public static async Task<BackupVerdict> VerifyAsync(LedgerOptions options, string? name, CancellationToken cancel = default)
    {
        var folder = new BackupFolder((await BenchDatabase.PlaceOfAsync(options)).BackupFolder);
        return await BackupCheck.VerifyAsync(folder, folder.Find(name), everyPhoto: true, cancel);
    }

    /// <param name="options">The bench to be replaced; nobody may have it open.</param>
    /// <param name="name">Of the backup, as listed; the newest when null.</param>
    /// <param name="clock">For the name of what is kept.</param>
    /// <param name="progress">Told now and then.</param>
    /// <param name="cancel">Stops before the bench is replaced.</param>
    /// <exception cref="LedgerProblem">The backup is not sound, or the bench is in use. Nothing was changed.</exception>
    public static async Task<RestoreReceipt> RestoreAsync(
        LedgerOptions options, string? name = null, TimeProvider? clock = null, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default)
    {
        var place = await BenchDatabase.PlaceOfAsync(options);
        var folder = new BackupFolder(place.BackupFolder);
        var found = folder.Find(name);
        progress?.Report(new ExchangeProgress("opening the backup", 0, 0));
        var verdict = await BackupCheck.VerifyAsync(folder, found, everyPhoto: true, cancel);
        if (!verdict.IsSound)
        {
            throw new LedgerProblem(LedgerFault.Corrupt, $"The backup {found} is not sound, and nothing was changed: {string.Join("; ", verdict.Problems.Take(5))}. Name an older one.");
        }

        var head = folder.Head(found);
        var photos = await PhotosAsync(folder.Photos, new PhotoStore(place.PhotosFolder), head, cancel);
        var stamp = (clock ?? TimeProvider.System).GetUtcNow().UtcDateTime.ToString("yyyyMMdd'T'HHmmss", CultureInfo.InvariantCulture);
        var source = folder.PathOf(found, head.File);
        var replaced = place.File is { } file
            ? await ReplaceFileAsync(file, source, head, options, stamp, progress, cancel)
            : await ReplaceSchemaAsync(source, head, options, stamp, progress, cancel);
        return new RestoreReceipt(found, head.Facts, photos, replaced);
    }

    private static async Task<string?> ReplaceFileAsync(
        string file, string source, BackupManifest head, LedgerOptions options, string stamp, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        var aside = $"{file}.restoring-{stamp}";
        try
        {
            if (head.File == "bench.db")
            {
                await using var from = new FileStream(source, FileMode.Open, FileAccess.Read);
                await using var to = new FileStream(aside, FileMode.CreateNew, FileAccess.Write);
                await from.CopyToAsync(to, cancel);
                to.Flush(flushToDisk: true);
            }
            else
            {
                await ImportAsync(options with { Location = aside, CreateIfMissing = true }, source, progress, cancel);
                SqliteCopy.DemandAlone(aside);
            }

            return Swap(file, aside, stamp);
        }
        finally
        {
            File.Delete(aside);
        }
    }

    private static string? Swap(string file, string aside, string stamp)
    {
        string? kept = null;
        if (File.Exists(file))
        {
            SqliteCopy.DemandAlone(file);
            kept = Path.Combine(Path.GetDirectoryName(file)!, $"{Path.GetFileNameWithoutExtension(file)}.replaced-{stamp}{Path.GetExtension(file)}");
            File.Move(file, kept);
            // A hurt bench may still have its log: it belongs to the file it was written for, never to the restored one.
            foreach (var tail in (string[])["-wal", "-shm"])
            {
                if (File.Exists(file + tail))
                {
                    File.Move(file + tail, kept + tail);
                }
            }
        }

        try
        {
            File.Move(aside, file);
        }
        catch when (kept is not null)
        {
            File.Move(kept, file);
            throw;
        }

        return kept;
    }

    private static async Task<string?> ReplaceSchemaAsync(
        string source, BackupManifest head, LedgerOptions options, string stamp, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        if (head.File != "bench.zip")
        {
            throw new LedgerProblem(LedgerFault.Conflict, "This backup is a SQLite file; the bench named is in PostgreSQL. Restore it as a file, then carry it over with \"rootwater exchange archive\".");
        }

        var kept = await PostgresSchemas.SetAsideAsync(options.Location!, stamp, cancel);
        try
        {
            await ImportAsync(options, source, progress, cancel);
            return kept;
        }
        catch
        {
            await PostgresSchemas.PutBackAsync(options.Location!, kept, CancellationToken.None);
            throw;
        }
    }

    private static async Task ImportAsync(LedgerOptions into, string source, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        await using var archiveFile = new FileStream(source, FileMode.Open, FileAccess.Read);
        using var archive = ArchiveReader.Open(archiveFile, inPool: true);
        await using var database = await BenchDatabase.OpenAsync(into, cancel);
        await archive.RestoreAsync(database, progress, cancel);
    }

    private static async Task<int> PhotosAsync(PhotoStore pool, PhotoStore store, BackupManifest head, CancellationToken cancel)
    {
        var brought = 0;
        foreach (var hash in head.Photos)
        {
            if (!await store.IsSoundAsync(hash, cancel))
            {
                store.Remove(hash);
                await store.KeepCleanAsync(hash, await File.ReadAllBytesAsync(pool.PathOf(hash, thumbnail: false), cancel), cancel);
                brought++;
            }
        }

        return brought;
    }
}
