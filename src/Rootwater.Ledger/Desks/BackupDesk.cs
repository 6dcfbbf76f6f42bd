using System.Security.Cryptography;
using Rootwater.Ledger.Backup;
using Rootwater.Ledger.Exchange;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Photos;
using Rootwater.Ledger.Sqlite;

namespace Rootwater.Ledger.Desks;

/// <summary>Backups: a copy of a SQLite file, an archive of anything else; the same folder and the same checks for both.</summary>
public sealed class BackupDesk(BenchDatabase database, TimeProvider clock) : IBackupDesk
{
    private readonly BackupFolder _folder = new(database.BackupFolder);
    private readonly SemaphoreSlim _one = new(1, 1);

    public string Folder => _folder.Path;

    public async Task<BackupView> NowAsync(BackupRetention? retention = null, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default)
    {
        retention = (retention ?? new BackupRetention()).Checked();
        await _one.WaitAsync(cancel);
        try
        {
            return await Task.Run(() => MakeAsync(retention, progress, cancel), cancel);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException or Microsoft.Data.Sqlite.SqliteException)
        {
            throw new LedgerProblem(LedgerFault.DiskFull, $"No backup could be made in {Folder}: {error.Message} Make room there, or name another folder. The bench itself is untouched.", error);
        }
        finally
        {
            _one.Release();
        }
    }

    public Task<IReadOnlyList<BackupView>> ListAsync(CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<BackupView>>([.. _folder.Names().Select(_folder.View)]);

    public async Task<BackupVerdict> VerifyAsync(string? name = null, CancellationToken cancel = default)
    {
        var found = _folder.Find(name);
        return await Task.Run(() => BackupCheck.VerifyAsync(_folder, found, everyPhoto: true, cancel), cancel);
    }

    private async Task<BackupView> MakeAsync(BackupRetention retention, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        var moment = clock.GetUtcNow();
        // Two within a millisecond would share a name.
        while (_folder.Names().Contains(BackupFolder.NameAt(moment)))
        {
            moment = moment.AddMilliseconds(1);
        }

        var name = BackupFolder.NameAt(moment);
        var part = name + ".part";
        foreach (var torn in Directory.Exists(Folder) ? Directory.GetDirectories(Folder, "*Z.part") : [])
        {
            Directory.Delete(torn, recursive: true);
        }

        Directory.CreateDirectory(Path.Combine(Folder, part));
        try
        {
            progress?.Report(new ExchangeProgress("copying the bench", 0, 0));
            var head = await CopyAsync(part, moment, progress, cancel);
            _folder.WriteHead(part, head);
            progress?.Report(new ExchangeProgress("opening the copy", 0, 0));
            var verdict = await BackupCheck.VerifyAsync(_folder, part, everyPhoto: false, cancel);
            if (!verdict.IsSound)
            {
                throw new LedgerProblem(LedgerFault.Corrupt, $"The backup did not verify and was thrown away: {string.Join("; ", verdict.Problems)}. Older backups are untouched. Check the disk.");
            }

            Directory.Move(Path.Combine(Folder, part), Path.Combine(Folder, name));
        }
        catch
        {
            Directory.Delete(Path.Combine(Folder, part), recursive: true);
            throw;
        }

        _folder.Prune(retention);
        return _folder.View(name);
    }

    private async Task<BackupManifest> CopyAsync(string part, DateTimeOffset moment, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        var isSqlite = database is SqliteBench;
        var file = isSqlite ? "bench.db" : "bench.zip";
        var path = _folder.PathOf(part, file);
        long facts;
        IReadOnlyList<string> named;
        if (isSqlite)
        {
            SqliteCopy.Make(database.Name, path);
            var content = SqliteCopy.Look(path);
            (facts, named) = (content.Facts, content.Photos);
        }
        else
        {
            await using var to = new FileStream(path, FileMode.CreateNew, FileAccess.ReadWrite);
            var manifest = await ArchiveWriter.WriteAsync(database, to, moment, withPhotos: false, progress, cancel);
            to.Flush(flushToDisk: true);
            (facts, named) = (manifest.Facts, [.. manifest.Photos.Concat(manifest.MissingPhotos).Order(StringComparer.Ordinal)]);
        }

        var missing = await PhotosAsync(named, progress, cancel);
        return new BackupManifest
        {
            Version = BackupManifest.NewestVersion,
            Program = $"Rootwater {typeof(BackupDesk).Assembly.GetName().Version?.ToString(3)}",
            MadeAt = moment,
            Of = database.Name,
            File = file,
            Bytes = new FileInfo(path).Length,
            Sha256 = await BackupCheck.HashAsync(path, cancel),
            Facts = facts,
            Photos = [.. named.Except(missing)],
            MissingPhotos = missing,
        };
    }

    // Returns those that are gone or hurt beside the bench and not in the pool either.
    private async Task<IReadOnlyList<string>> PhotosAsync(IReadOnlyList<string> named, IProgress<ExchangeProgress>? progress, CancellationToken cancel)
    {
        var store = new PhotoStore(database.PhotosFolder);
        var missing = new List<string>();
        foreach (var (hash, at) in named.Select((hash, at) => (hash, at)))
        {
            if (_folder.Photos.Holds(hash))
            {
                continue;
            }

            await using var picture = await store.OpenAsync(hash, thumbnail: false, cancel);
            if (picture is null)
            {
                missing.Add(hash);
                continue;
            }

            using var bytes = new MemoryStream();
            await picture.CopyToAsync(bytes, cancel);
            if (Convert.ToHexStringLower(SHA256.HashData(bytes.ToArray())) != hash)
            {
                missing.Add(hash);
                continue;
            }

            await _folder.Photos.KeepCleanAsync(hash, bytes.ToArray(), cancel);
            progress?.Report(new ExchangeProgress("photos", at + 1, named.Count));
        }

        return missing;
    }
}
