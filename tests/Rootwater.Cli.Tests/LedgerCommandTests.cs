using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater ledger</c> as a process.</summary>
public sealed class LedgerCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-cli-").FullName;

    private string File => Path.Combine(_folder, "bench.db");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_demo_fills_an_empty_bench_once_and_everything_follows_from_its_facts()
    {
        var (status, output, error) = Terminal.Rootwater("", "ledger", "demo", "--three-months", "--bench", File, "--json");
        status.ShouldBe(0, error);
        JsonDocument.Parse(output).RootElement.GetProperty("facts").GetInt32().ShouldBeGreaterThan(500);

        (status, output, error) = Terminal.Rootwater("", "ledger", "demo", "--database", File);
        status.ShouldBe(0, error);
        output.ShouldContain("left as it is");

        (status, output, error) = Terminal.Rootwater("", "ledger", "check", "--bench", File, "--json");
        status.ShouldBe(0, error);
        var report = JsonDocument.Parse(output).RootElement;
        report.GetProperty("differences").GetArrayLength().ShouldBe(0);
        report.GetProperty("tables").GetProperty("plants").GetInt32().ShouldBe(36);
    }

    [Fact]
    public void A_bench_that_is_not_there_is_not_made_by_checking_it()
    {
        var (status, _, error) = Terminal.Rootwater("", "ledger", "check", "--bench", File);

        status.ShouldBe(2);
        error.ShouldContain(File);
        error.ShouldNotContain("   at ");
        System.IO.File.Exists(File).ShouldBeFalse();
    }

    [Fact]
    public void A_file_that_is_no_bench_is_named_in_a_sentence_without_a_stack_trace()
    {
        System.IO.File.WriteAllText(File, "Monday: repotted the big one.");

        var (status, output, error) = Terminal.Rootwater("", "ledger", "demo", "--bench", File);

        status.ShouldBe(2);
        output.ShouldBeEmpty();
        error.ShouldContain(File);
        error.ShouldContain("not a Rootwater bench");
        error.ShouldNotContain("   at ");
    }
}
