using System.CommandLine;
using System.Globalization;
using Rootwater.Ledger.Backup;

namespace Rootwater.Cli;

/// <summary><c>rootwater backup</c>: now, list, verify, restore.</summary>
internal static class BackupCommand
{
    public static Command Create() => new("backup", "Backups: make one while the bench is in use, list, verify, and put one back.") { Now(), List(), Verify(), Restore() };

    private static Command Now()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        var standard = new BackupRetention();
        var (days, weeks, months) = (Kept("--days", "days", standard.Days), Kept("--weeks", "weeks", standard.Weeks), Kept("--months", "months", standard.Months));
        return new Command("now", "Make a backup, open it to verify it, and remove those that age out.") { days, weeks, months, bench, json }.With((result, cancel) => Words.OnBenchAsync("backup now", result.GetValue(bench), async desks =>
        {
            var made = await desks.Backups.NowAsync(new BackupRetention { Days = result.GetValue(days), Weeks = result.GetValue(weeks), Months = result.GetValue(months) }, cancel: cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(new { desks.Backups.Folder, made });
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{made.Name} in {desks.Backups.Folder}: {made.Facts} facts, {made.Photos} photos, verified."));
            return 0;
        }, cancel));
    }

    private static Command List()
    {
        var (bench, json) = (BenchOption.Create(), Words.Json());
        return new Command("list", "Backups, newest first.") { bench, json }.With((result, cancel) => BenchOption.RunAsync("backup list", async () =>
        {
            // A bench that is lost still has its backups: it is not opened for this.
            var backups = await BackupRestore.ListAsync(Words.Options(result.GetValue(bench)));
            if (result.GetValue(json))
            {
                return Words.WriteJson(backups);
            }

            Words.WriteTable(["name", "made (UTC)", "facts", "photos", "MB", ""], backups.Select(backup => (IReadOnlyList<string?>)
            [
                backup.Name, backup.MadeAt.UtcDateTime.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture), backup.Facts.ToString("N0", CultureInfo.InvariantCulture),
                backup.Photos.ToString("N0", CultureInfo.InvariantCulture), (backup.Bytes / 1e6).ToString("0.0", CultureInfo.InvariantCulture), backup.Problem,
            ]));
            return 0;
        }));
    }

    private static Command Verify()
    {
        var (name, bench, json) = (Name(), BenchOption.Create(), Words.Json());
        return new Command("verify", "Open a backup and look whether it could be restored whole. Exit status 1 when not.") { name, bench, json }.With((result, cancel) => BenchOption.RunAsync("backup verify", async () =>
        {
            var verdict = await BackupRestore.VerifyAsync(Words.Options(result.GetValue(bench)), result.GetValue(name), cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(verdict, verdict.IsSound ? 0 : 1);
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{verdict.Name}: {verdict.Facts} facts, {verdict.Photos} photos{(verdict.IsSound ? ", sound." : ".")}"));
            foreach (var problem in verdict.Problems)
            {
                Console.WriteLine("  " + problem);
            }

            return verdict.IsSound ? 0 : 1;
        }));
    }

    private static Command Restore()
    {
        var (name, bench, json) = (Name(), BenchOption.Create(), Words.Json());
        return new Command("restore", "Put a backup in the bench's place. What stood there is kept under another name. Stop Rootwater first.") { name, bench, json }.With((result, cancel) => BenchOption.RunAsync("backup restore", async () =>
        {
            var receipt = await BackupRestore.RestoreAsync(Words.Options(result.GetValue(bench)), result.GetValue(name), cancel: cancel);
            if (result.GetValue(json))
            {
                return Words.WriteJson(receipt);
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{receipt.Name} is back: {receipt.Facts} facts, {receipt.Photos} photos brought."));
            Console.WriteLine(receipt.Replaced is null ? "Nothing stood there before." : $"What stood there is kept as {receipt.Replaced}");
            return 0;
        }));
    }

    private static Argument<string?> Name() => new("NAME") { Description = "As listed; the newest when left out.", Arity = ArgumentArity.ZeroOrOne };

    private static Option<int> Kept(string name, string what, int standard) => new(name) { Description = $"How many {what} back one backup each is kept.", DefaultValueFactory = _ => standard };
}
