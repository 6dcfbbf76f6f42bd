using System.Security.Cryptography;
using Rootwater.Ledger.Exchange.Archive;

namespace Rootwater.Ledger.Backup;

/// <summary>Opens a backup and looks whether it could be restored whole.</summary>
internal static class BackupCheck
{
    public static async Task<BackupVerdict> VerifyAsync(BackupFolder folder, string name, bool everyPhoto, CancellationToken cancel)
    {
        BackupManifest head;
        try
        {
            head = folder.Head(name);
        }
        catch (LedgerProblem problem)
        {
            return new BackupVerdict(name, 0, 0, [problem.Message]);
        }

        var path = folder.PathOf(name, head.File);
        if (!File.Exists(path))
        {
            return new BackupVerdict(name, 0, 0, [$"{head.File} is gone"]);
        }

        if (await HashAsync(path, cancel) != head.Sha256)
        {
            return new BackupVerdict(name, 0, 0, [$"{head.File} was changed or damaged since it was made"]);
        }

        var problems = new List<string>();
        var facts = head.File == "bench.db" ? Database(path, problems) : await ArchiveAsync(path, problems, cancel);
        if (facts != head.Facts && problems.Count == 0)
        {
            problems.Add($"it holds {facts} facts where {head.Facts} were put in");
        }

        var sound = 0;
        foreach (var hash in head.Photos)
        {
            if (everyPhoto ? await folder.Photos.IsSoundAsync(hash, cancel) : folder.Photos.Holds(hash))
            {
                sound++;
            }
            else
            {
                problems.Add($"the picture {hash} is gone or damaged");
            }
        }

        return new BackupVerdict(name, facts, sound, problems);
    }

    public static async Task<string> HashAsync(string path, CancellationToken cancel)
    {
        await using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 20, useAsync: true);
        return Convert.ToHexStringLower(await SHA256.HashDataAsync(file, cancel));
    }

    private static long Database(string path, List<string> problems)
    {
        var content = SqliteCopy.Look(path);
        problems.AddRange(content.Problems);
        return content.Facts;
    }

    private static async Task<long> ArchiveAsync(string path, List<string> problems, CancellationToken cancel)
    {
        try
        {
            await using var file = new FileStream(path, FileMode.Open, FileAccess.Read);
            using var archive = ArchiveReader.Open(file, inPool: true);
            return (await archive.CheckAsync(cancel: cancel)).Facts;
        }
        catch (EntryException refused)
        {
            problems.Add(refused.Message);
            return 0;
        }
    }
}
