using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Rootwater.Web.Tests;

/// <summary>How the program starts, as its own process: what it prints, and how it refuses.</summary>
public sealed class StartTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-start-");

    [Fact]
    public async Task A_file_that_is_no_bench_is_named_and_left_as_it_was()
    {
        var file = Path.Combine(_folder.FullName, "bench.db");
        var bytes = Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("this is no database. ", 500)));
        await File.WriteAllBytesAsync(file, bytes, TestContext.Current.CancellationToken);
        var (exit, said) = await StartAsync("--demo=three-months", "--urls", "http://127.0.0.1:0", "--database", file);
        exit.ShouldBe(1);
        said.ShouldContain(file);
        said.ShouldContain("Nothing was changed");
        said.ShouldNotContain("   at ");
        (await File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken)).ShouldBe(bytes);
    }

    [Fact]
    public async Task An_address_that_is_taken_is_named_with_the_way_out()
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        var taken = $"http://127.0.0.1:{((IPEndPoint)other.LocalEndpoint).Port}";
        var (exit, said) = await StartAsync("--urls", taken, "--database", Path.Combine(_folder.FullName, "bench.db"));
        exit.ShouldBe(1);
        said.ShouldContain($"{taken} is taken");
        said.ShouldContain("--urls");
        said.ShouldNotContain("   at ");
    }

    [Theory]
    [InlineData("http://0.0.0.0:5299")]
    [InlineData("http://*:5299")]
    [InlineData("http://localhost:5299;http://192.168.1.20:5299")]
    public async Task An_address_beyond_this_machine_is_refused_before_anything_listens(string address)
    {
        var (exit, said) = await StartAsync("--urls", address, "--database", Path.Combine(_folder.FullName, "bench.db"));
        exit.ShouldBe(1);
        said.ShouldContain("reaches beyond this machine");
        said.ShouldContain("/network");
        File.Exists(Path.Combine(_folder.FullName, "bench.db")).ShouldBeFalse();
    }

    private static async Task<(int Exit, string Said)> StartAsync(params string[] words)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardError = true, RedirectStandardOutput = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Rootwater.Web.dll"));
        foreach (var word in words)
            start.ArgumentList.Add(word);
        using var program = Process.Start(start)!;
        try
        {
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
            patience.CancelAfter(TimeSpan.FromMinutes(1));
            var said = program.StandardOutput.ReadToEndAsync(patience.Token);
            var wrong = program.StandardError.ReadToEndAsync(patience.Token);
            await program.WaitForExitAsync(patience.Token);
            return (program.ExitCode, await said + await wrong);
        }
        finally
        {
            if (!program.HasExited)
                program.Kill(entireProcessTree: true);
        }
    }

    public void Dispose() => _folder.Delete(recursive: true);
}
