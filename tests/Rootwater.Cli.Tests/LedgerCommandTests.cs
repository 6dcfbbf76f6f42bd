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
    public void A_bench_that_another_program_holds_or_a_disk_has_damaged_is_named_with_the_way_out_and_left_as_it_was()
    {
        Terminal.Rootwater("", "ledger", "demo", "--three-months", "--bench", File).Status.ShouldBe(0);
        using (var other = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False"))
        {
            other.Open();
            using var hold = other.CreateCommand();
            hold.CommandText = "BEGIN IMMEDIATE";
            hold.ExecuteNonQuery();
            ShouldRefuse(Terminal.Rootwater("", "can", "plan", "--save", "--bench", File), 2, File, "another program", "try again");
        }

        Terminal.Rootwater("", "ledger", "check", "--bench", File).Status.ShouldBe(0, "nothing was half saved");
        var bytes = System.IO.File.ReadAllBytes(File);
        var noise = new byte[bytes.Length - 4096];
        new Random(7).NextBytes(noise);
        noise.CopyTo(bytes, 4096);
        System.IO.File.WriteAllBytes(File, bytes);

        ShouldRefuse(Terminal.Rootwater("", "can", "plan", "--bench", File), 2, File, "damaged", "backup");
        System.IO.File.ReadAllBytes(File).ShouldBe(bytes);
    }

    [Fact]
    public void A_cupboard_without_products_is_named_when_a_can_is_to_be_planned()
    {
        Terminal.Rootwater("", "ledger", "demo", "--three-months", "--bench", File).Status.ShouldBe(0);
        using (var hand = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={File};Pooling=False"))
        {
            hand.Open();
            using var empty = hand.CreateCommand();
            empty.CommandText = "DELETE FROM lots; DELETE FROM products";
            empty.ExecuteNonQuery();
        }

        ShouldRefuse(Terminal.Rootwater("", "can", "plan", "--bench", File), 1, "cupboard", "at least one product");
    }

    private static void ShouldRefuse((int Status, string Out, string Error) said, int status, params string[] words)
    {
        said.Status.ShouldBe(status, said.Error);
        said.Out.ShouldBeEmpty();
        said.Error.ShouldSatisfyAllConditions([.. words.Select(word => (Action)(() => said.Error.ShouldContain(word)))]);
        said.Error.ShouldNotContain("   at ");
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
