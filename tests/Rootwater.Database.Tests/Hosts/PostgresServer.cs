using System.Diagnostics;

[assembly: AssemblyFixture(typeof(Rootwater.Database.Tests.Hosts.PostgresServer))]

namespace Rootwater.Database.Tests.Hosts;

/// <summary>A PostgreSQL server of the tests' own: on a free loopback port, its data and socket in a temporary folder, gone when the tests are done.</summary>
public sealed class PostgresServer : IAsyncDisposable
{
    public const string Password = "only-for-tests";

    private readonly SemaphoreSlim _starting = new(1, 1);
    private string? _folder;
    private string? _binaries;
    private string? _connectionString;

    public int Port { get; private set; }

    public string ConnectionString => _connectionString ?? throw new InvalidOperationException("Not started.");

    /// <summary>Starts the server once. Skips the test, with the reason, where PostgreSQL is not installed.</summary>
    public async Task RequireAsync()
    {
        await _starting.WaitAsync();
        try
        {
            if (_connectionString is not null)
            {
                return;
            }

            _binaries = FindBinaries();
            Assert.SkipWhen(_binaries is null, "PostgreSQL is not installed (Debian: apt-get install postgresql).");
            Start(_binaries!);
        }
        finally
        {
            _starting.Release();
        }
    }

    public ValueTask DisposeAsync()
    {
        if (_folder is not null)
        {
            if (_connectionString is not null)
            {
                Run(Path.Combine(_binaries!, "pg_ctl"), "-D", Path.Combine(_folder, "data"), "-m", "immediate", "-w", "stop");
            }

            Directory.Delete(_folder, recursive: true);
        }

        _starting.Dispose();
        return ValueTask.CompletedTask;
    }

    private void Start(string binaries)
    {
        _folder = Directory.CreateTempSubdirectory("rootwater-pg-").FullName;
        var data = Path.Combine(_folder, "data");
        var password = Path.Combine(_folder, "password");
        File.WriteAllText(password, Password);
        if (Environment.IsPrivilegedProcess)
        {
            RunAsMyself("chown", "-R", "postgres", _folder);
        }

        Run(Path.Combine(binaries, "initdb"), "-D", data, "-U", "postgres", "-E", "UTF8", "--locale=C", "--no-sync",
            "--auth-local=trust", "--auth-host=scram-sha-256", $"--pwfile={password}");
        Port = FreePort.Take();
        // fsync off: these databases are thrown away; durability is PostgreSQL's own promise, not ours to test.
        Run(Path.Combine(binaries, "pg_ctl"), "-D", data, "-w", "-l", Path.Combine(_folder, "log"),
            "-o", $"-p {Port} -k {_folder} -c listen_addresses=127.0.0.1 -c fsync=off -c max_connections=40", "start");
        _connectionString = $"Host=127.0.0.1;Port={Port};Database=postgres;Username=postgres;Password={Password}";
    }

    private static string? FindBinaries()
    {
        var debian = Directory.Exists("/usr/lib/postgresql") ? Directory.GetDirectories("/usr/lib/postgresql").Select(version => Path.Combine(version, "bin")) : [];
        return debian.OrderDescending(StringComparer.Ordinal).Concat((Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator))
            .FirstOrDefault(folder => File.Exists(Path.Combine(folder, "initdb")));
    }

    // PostgreSQL refuses to run as root.
    private static void Run(string program, params string[] arguments)
    {
        if (Environment.IsPrivilegedProcess)
        {
            RunAsMyself("runuser", ["-u", "postgres", "--", program, .. arguments]);
        }
        else
        {
            RunAsMyself(program, arguments);
        }
    }

    private static void RunAsMyself(string program, params string[] arguments)
    {
        // The server keeps what it is given open: no pipes, or waiting for their end would wait for the server's.
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = "/" };
        start.ArgumentList.Add("-c");
        start.ArgumentList.Add("exec \"$0\" \"$@\" >/dev/null 2>&1 </dev/null");
        start.ArgumentList.Add(program);
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start)!;
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}.");
        }
    }
}
