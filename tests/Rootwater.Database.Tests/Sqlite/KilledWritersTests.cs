using System.Diagnostics;
using System.Globalization;
using Microsoft.Data.Sqlite;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Sqlite;

/// <summary>
/// Programs that write are killed (SIGKILL) at random moments, several writers in each, all on one file. Nothing that was acknowledged may be missing, nothing may
/// be there by half, and the tables must follow from the facts. ROOTWATER_KILLS says how often; docs/benchmarks.md has the figure of a long run.
/// </summary>
public sealed class KilledWritersTests : IAsyncLifetime
{
    private const int WritersInAProgram = 2;
    private const int ProgramsAtOnce = 2;

    private readonly SqliteHost _host = new();
    private readonly SmallBench _small = new();
    private readonly HashSet<Guid> _acknowledged = [];

    private static int Kills => int.TryParse(Environment.GetEnvironmentVariable("ROOTWATER_KILLS"), NumberStyles.None, CultureInfo.InvariantCulture, out var kills) ? kills : 20;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Nothing_that_was_acknowledged_is_lost_to_a_kill()
    {
        var random = new Random(20260314);
        var midWrite = 0;
        for (var killed = 0; killed < Kills; killed += ProgramsAtOnce)
        {
            var delays = Enumerable.Range(0, ProgramsAtOnce).Select(_ => TimeSpan.FromMilliseconds(random.Next(20, 150))).ToList();
            midWrite += (await Task.WhenAll(delays.Select(KillOneAsync))).Count(torn => torn);
            await LookAsync();
        }

        await using var database = await BenchDatabase.OpenAsync(_host.Options, Cancel);
        var report = await LedgerCheck.CheckAsync(database, Cancel);
        report.Differences.ShouldBeEmpty();
        _acknowledged.Count.ShouldBeGreaterThan(Kills);
        TestContext.Current.SendDiagnosticMessage($"{Kills} kills, {_acknowledged.Count} acknowledged facts, {report.Facts} in the ledger, {midWrite} programs had written and not yet told.");
    }

    // True when the ledger's answer was cut off: the kill fell between the program's commit and its telling, or within a line.
    private async Task<bool> KillOneAsync(TimeSpan after)
    {
        var start = new ProcessStartInfo(Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "Rootwater.Database.Writer.exe" : "Rootwater.Database.Writer"))
        {
            ArgumentList = { _host.File, _small.FirstPlant.ToString(), _small.PlaceId.ToString(), WritersInAProgram.ToString(CultureInfo.InvariantCulture) },
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using var program = Process.Start(start)!;
        try
        {
            (await program.StandardOutput.ReadLineAsync(Cancel)).ShouldBe("ready", await Said(program));
            var rest = program.StandardOutput.ReadToEndAsync(Cancel);
            await Task.Delay(after, Cancel);
            // .NET's Kill is SIGKILL on Unix: no handler runs, nothing is flushed.
            program.Kill();
            await program.WaitForExitAsync(Cancel);
            var text = await rest;
            var lines = text.Split('\n');
            lock (_acknowledged)
            {
                // What follows the last line end was never told whole.
                _acknowledged.UnionWith(lines[..^1].SelectMany(line => line.Split(' ')).Select(Guid.Parse));
            }

            return lines[^1].Length > 0;
        }
        finally
        {
            if (!program.HasExited)
            {
                program.Kill();
            }
        }
    }

    private async Task LookAsync()
    {
        await using var connection = new SqliteConnection($"Data Source={_host.File};Pooling=False");
        await connection.OpenAsync(Cancel);
        (await ScalarAsync<string>(connection, "PRAGMA integrity_check")).ShouldBe("ok");
        var count = await ScalarAsync<long>(connection, "SELECT count(*) FROM facts");
        (await ScalarAsync<long>(connection, "SELECT max(position) FROM facts")).ShouldBe(count);
        // Movements and states were written in pairs.
        (await ScalarAsync<long>(connection, "SELECT count(*) FROM facts WHERE kind = 'plant.moved' AND device LIKE 'writer%'"))
            .ShouldBe(await ScalarAsync<long>(connection, "SELECT count(*) FROM facts WHERE kind = 'plant.states' AND device LIKE 'writer%'"));
        await using var command = connection.CreateCommand();
        command.CommandText = "SELECT id FROM facts";
        await using var reader = await command.ExecuteReaderAsync(Cancel);
        var there = new HashSet<Guid>();
        while (await reader.ReadAsync(Cancel))
        {
            there.Add(reader.GetGuid(0));
        }

        _acknowledged.Except(there).ShouldBeEmpty("acknowledged, and not in the ledger");
    }

    private static async Task<T> ScalarAsync<T>(SqliteConnection connection, string sql)
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return (T)(await command.ExecuteScalarAsync(Cancel))!;
    }

    private static async Task<string> Said(Process program) => program.HasExited ? await program.StandardError.ReadToEndAsync(Cancel) : "";

    public async ValueTask InitializeAsync()
    {
        await using var desks = await BenchDesks.OpenAsync(_host.Options, cancel: Cancel);
        await desks.Log.AppendAsync(_small.Facts(), Cancel);
    }

    public ValueTask DisposeAsync() => _host.DisposeAsync();
}
