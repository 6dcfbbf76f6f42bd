using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater name</c> as a process.</summary>
public sealed class NameCommandTests
{
    [Fact]
    public void A_name_is_written_by_the_codes_and_what_was_put_right_is_said()
    {
        var (status, output, error) = Terminal.Rootwater("", "name", "Phal. sumatrana x tetraspis");

        status.ShouldBe(0);
        output.Trim().ShouldBe("Phalaenopsis sumatrana × Phalaenopsis tetraspis");
        error.ShouldContain("Each parent in a formula has its genus");
    }

    [Fact]
    public void What_is_no_name_is_refused_and_its_parts_come_as_JSON()
    {
        var (status, output, _) = Terminal.Rootwater("", "name", "'Red'", "--json");

        status.ShouldBe(2);
        JsonDocument.Parse(output).RootElement.GetProperty("findings")[0].GetProperty("fault").GetString().ShouldBe("noGenus");
    }
}
