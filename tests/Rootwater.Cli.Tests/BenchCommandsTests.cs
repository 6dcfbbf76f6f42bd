using System.Text;
using System.Text.Json;

namespace Rootwater.Cli.Tests;

/// <summary><c>rootwater bench</c>, <c>plant</c>, <c>round</c>, <c>reading</c>, <c>exchange</c> and <c>backup</c> as processes, on the demo bench.</summary>
public sealed class BenchCommandsTests : IClassFixture<BenchCommandsTests.DemoFile>, IDisposable
{
    /// <summary>The demo bench of three months, made once; every test works on a copy. What six years hold is looked at where the demo itself is.</summary>
    public sealed class DemoFile : IDisposable
    {
        private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-cli-").FullName;

        public DemoFile() => Ok("ledger", "demo", "--three-months", "--bench", Path.Combine(_folder, "bench.db"), "--json");

        public void CopyTo(string folder)
        {
            foreach (var file in Directory.GetFiles(_folder))
            {
                File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
            }
        }

        public void Dispose() => Directory.Delete(_folder, recursive: true);
    }

    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-cli-").FullName;

    private string Bench => Path.Combine(_folder, "bench.db");

    public BenchCommandsTests(DemoFile demo) => demo.CopyTo(_folder);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void The_bench_is_listed_a_plant_noted_read_given_and_shown()
    {
        var cards = Json("bench", "--bench", Bench, "--json");
        cards.GetArrayLength().ShouldBeGreaterThan(30);
        var number = cards[0].GetProperty("number").GetInt32().ToString(System.Globalization.CultureInfo.InvariantCulture);
        Ok("plant", "note", number, "smells of honey at noon", "--bench", Bench);
        Ok("reading", "add", number, "--ec", "1.1", "--ph", "6.4", "--bench", Bench);
        Ok("round", "give", number, "--ml", "200", "--bench", Bench);
        var life = Json("plant", "show", number, "--bench", Bench, "--json");
        life.GetProperty("notes").EnumerateArray().Select(note => note.GetProperty("text").GetString()).ShouldContain("smells of honey at noon");
        Json("reading", "list", number, "--bench", Bench, "--json").EnumerateArray().Last().GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(1100);
        Json("round", "today", "--bench", Bench, "--json").GetProperty("stops").GetArrayLength().ShouldBeGreaterThan(0);
        Terminal.Rootwater("", "plant", "show", number, "--bench", Bench).Out.ShouldContain($"no. {number} ");
    }

    [Fact]
    public void A_reading_is_typed_and_shown_in_the_readers_units_when_asked_for_and_kept_in_si()
    {
        var settings = $$$"""[{"id":"{{{Guid.CreateVersion7()}}}","kind":"settings.set","subjectId":"{{{Guid.Empty}}}","payload":{"units":{"volume":"UsGallon","temperature":"Fahrenheit","ec":"Ppm500","hardness":"GermanDegree"},"baseAddress":null}}]""";
        Terminal.Rootwater(settings, "plant", "tell", "--bench", Bench).Status.ShouldBe(0);
        Ok("reading", "add", "1", "--ec", "550", "--temperature", "68", "--reader", "--bench", Bench);
        var kept = Json("reading", "list", "1", "--reader", "--bench", Bench, "--json").EnumerateArray().Last();
        kept.GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(1100, 1e-9);
        kept.GetProperty("temperatureCelsius").GetDouble().ShouldBe(20, 1e-9);
        var shown = Terminal.Rootwater("", "reading", "list", "1", "--reader", "--bench", Bench).Out;
        shown.ShouldContain("°F");
        shown.ShouldContain(" 550 ");
        Terminal.Rootwater("", "reading", "list", "1", "--bench", Bench).Out.ShouldContain("1.10");
    }

    [Fact]
    public void What_cannot_be_is_said_in_a_line_without_a_trace()
    {
        var (status, _, error) = Terminal.Rootwater("", "plant", "show", "99999", "--bench", Bench);
        status.ShouldBe(1);
        error.ShouldContain("NUMBER \"99999\"");
        error.ShouldNotContain("   at ");
        Terminal.Rootwater("[{\"id\":1}]", "plant", "tell", "--bench", Bench).Status.ShouldBe(1);
    }

    [Fact]
    public void A_backup_is_made_verified_and_put_back_and_what_stood_there_is_kept()
    {
        Json("backup", "now", "--bench", Bench, "--json").GetProperty("made").GetProperty("facts").GetInt64().ShouldBeGreaterThan(500);
        Json("backup", "verify", "--bench", Bench, "--json").GetProperty("problems").GetArrayLength().ShouldBe(0);
        File.Delete(Bench);
        File.WriteAllText(Bench, "gone");
        Json("backup", "list", "--bench", Bench, "--json").GetArrayLength().ShouldBe(1);
        var kept = Json("backup", "restore", "--bench", Bench, "--json").GetProperty("replaced").GetString()!;
        File.ReadAllText(kept).ShouldBe("gone");
        Json("ledger", "check", "--bench", Bench, "--json").GetProperty("differences").GetArrayLength().ShouldBe(0);
    }

    [Fact]
    public void A_bench_goes_out_as_an_archive_and_comes_in_under_another_name()
    {
        var (archive, other) = (Path.Combine(_folder, "bench.zip"), Path.Combine(_folder, "other.db"));
        Json("exchange", "archive", archive, "--bench", Bench, "--json").GetProperty("bytes").GetInt64().ShouldBeGreaterThan(1000);
        Json("exchange", "import-archive", archive, "--bench", other, "--json").GetProperty("written").GetBoolean().ShouldBeFalse();
        var facts = Json("exchange", "import-archive", archive, "--write", "--bench", other, "--json").GetProperty("facts").GetInt64();
        Json("ledger", "check", "--bench", other, "--json").GetProperty("facts").GetInt64().ShouldBe(facts);
    }

    [Fact]
    public void A_file_is_shown_first_and_a_cell_in_the_way_is_named()
    {
        var csv = Path.Combine(_folder, "notes.csv");
        File.WriteAllText(csv, "Nr,when,text\n1,2026-01-05,=1+1\n", Encoding.UTF8);
        var (status, output, _) = Terminal.Rootwater("", "exchange", "import-csv", "plant.noted", csv, "--map", "plantId=Nr", "--write", "--bench", Bench, "--json");
        status.ShouldBe(1);
        JsonDocument.Parse(output).RootElement.GetProperty("problems")[0].GetProperty("row").GetInt32().ShouldBe(2);
    }

    [Fact]
    public void Sheets_and_feeds_are_written_as_files()
    {
        foreach (var (command, head) in new[] { ("tags", "%PDF"), ("calendar", "BEGIN:VCALENDAR"), ("darwin-core", "PK"), ("csv-set", "PK") })
        {
            var file = Path.Combine(_folder, command);
            Ok("exchange", command, file, "--bench", Bench);
            File.ReadAllText(file, Encoding.Latin1).ShouldStartWith(head);
        }

        Ok("exchange", "story", "1", Path.Combine(_folder, "story.html"), "--bench", Bench);
    }

    private static JsonElement Json(params string[] arguments) => JsonDocument.Parse(Ok(arguments)).RootElement;

    private static string Ok(params string[] arguments)
    {
        var (status, output, error) = Terminal.Rootwater("", arguments);
        status.ShouldBe(0, error + output);
        return output;
    }
}
