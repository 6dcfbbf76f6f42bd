using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Exchange;

/// <summary>Tables out and in: shown before they are written, checked like everything a grower enters, the same bench again from a whole set.</summary>
public abstract class CsvTests : OnADatabase
{
    [Fact]
    public async Task A_growers_own_sheet_of_plants_becomes_plants_with_pots_and_places()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        const string Csv = """
            Tag;Label;Genus;Growth;Bought;Paid;Shelf;Bark;L
            17;Oncidium Sweet Sugar;Oncidium;sympodial;14.03.2024;12,50;shelf 1;bark;0,8
            18;"Masdevallia; veitchiana";Masdevallia;sympodial;2023-06;;SHELF 1;sphagnum;0.3
            """;
        var mapping = new CsvMapping
        {
            Table = "plants",
            DateFormat = "dd.MM.yyyy",
            Columns = new Dictionary<string, string>
            {
                ["number"] = "Tag",
                ["nameAsReceived"] = "Label",
                ["kind"] = "Genus",
                ["habit"] = "Growth",
                ["arrived"] = "Bought",
                ["price"] = "Paid",
                ["place"] = "Shelf",
                ["medium"] = "Bark",
                ["mediumLitres"] = "L",
            },
            Fixed = new Dictionary<string, string> { ["culture"] = "basket", ["feedMillilitres"] = "150", ["feedEveryDays"] = "10", ["currency"] = "EUR" },
        };

        var dry = await ReadAsync(Csv, mapping, write: false);
        dry.Problems.ShouldBeEmpty();
        dry.Changes.Select(change => change.Kind).ShouldBe(["plant.arrived", "plant.moved", "plant.potted", "plant.arrived", "plant.moved", "plant.potted"]);
        (await Desks.Plants.ListAsync(cancel: Cancel)).Count.ShouldBe(2, "a dry run writes nothing");

        (await ReadAsync(Csv, mapping, write: true)).Written.ShouldBeTrue();
        var plant = (await Desks.Plants.GetByNumberAsync(17, Cancel))!;
        plant.Card.NameAsReceived.ShouldBe("Oncidium Sweet Sugar");
        plant.Arrived.ToText().ShouldBe("2024-03-14");
        plant.Provenance.Price.ShouldBe(12.5m);
        plant.Card.Place!.Name.ShouldBe("shelf 1");
        plant.Card.Pot!.MediumLitres.ShouldBe(0.8);
        (await Desks.Plants.GetByNumberAsync(18, Cancel))!.Arrived.ToText().ShouldBe("2023-06");

        var again = await ReadAsync(Csv, mapping, write: true);
        again.Facts.ShouldBe(0, "the same file twice changes nothing");
        again.Unchanged.ShouldBe(2);
    }

    [Fact]
    public async Task The_sheet_of_plants_that_went_out_changes_nothing_when_it_comes_in()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var report = await ReadAsync(await WriteAsync("plants"), new CsvMapping { Table = "plants" }, write: false);
        report.Problems.ShouldBeEmpty();
        report.Changes.ShouldBeEmpty();
        report.Unchanged.ShouldBe(2);
    }

    [Fact]
    public async Task Every_cell_in_the_way_is_named_with_its_row_and_nothing_is_written()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        const string Csv = "plantId,when,text\n99,2026-01-01,who is that\n1,someday,when was that\n2,2026-01-02,=cmd()\n1,2036-01-01,to come\n2,2026-01-03,fine\n";
        var report = await ReadAsync(Csv, new CsvMapping { Table = "plant.noted" }, write: true);
        report.Problems.Select(problem => (problem.Row, problem.Field)).ShouldBe([(2, "plantId"), (3, "when"), (4, "text"), (5, "when")]);
        report.Written.ShouldBeFalse();
        (await Desks.Plants.GetByNumberAsync(2, Cancel))!.Notes.ShouldBeEmpty();
    }

    [Theory]
    [InlineData("nothing.such", "number\n1\n", "table")]
    [InlineData("plants", "", "file")]
    [InlineData("plants", "number,number\n1,2\n", "headings")]
    public async Task A_file_or_table_that_cannot_be_is_refused_by_name(string table, string csv, string field) =>
        (await Should.ThrowAsync<EntryException>(() => ReadAsync(csv, new CsvMapping { Table = table }, write: false))).Problems[0].Field.ShouldBe(field);

    [Fact]
    public async Task A_mapping_that_names_what_is_not_there_says_what_is() =>
        (await Should.ThrowAsync<EntryException>(async () =>
        {
            await Log.AppendAsync(Small.Facts(), Cancel);
            await ReadAsync("Tag\n1\n", new CsvMapping { Table = "plants", Columns = new Dictionary<string, string> { ["number"] = "Label", ["colour"] = "Tag" } }, write: false);
        })).Problems.Select(problem => problem.Value).ShouldBe(["Label", "colour"]);

    // The law of the issue: tables out and in, the same bench.
    [Fact]
    public async Task All_tables_of_a_bench_make_the_same_bench_in_an_empty_one()
    {
        await LeanTo.FillIfEmptyAsync(Desks.Database, Clock, cancel: Cancel);
        await RoundTripAsync();
    }

    private static readonly string[] s_deskTables =
        ["product.set", "lot.bought", "lot.weighed", "water.set", "water.reported", "vessel.set", "tools.set", "can.saved", "can.step.done", "can.read"];

    // The law for each table by itself: cans, waters and the cupboard come in one file at a time, shown first, and say what went out.
    [Fact]
    public async Task Each_table_of_cans_waters_and_the_cupboard_comes_in_singly_as_it_went_out()
    {
        await FilledAsync();
        await using var host = new SqliteHost();
        await using var other = await BenchDesks.OpenAsync(host.Options, clock: Clock, cancel: Cancel);
        await other.Log.AppendAsync(SmallBench.Fact(Guid.Empty, new BenchOpened("other bench", "UTC")), Cancel);
        foreach (var table in s_deskTables)
        {
            var csv = await WriteAsync(table);
            var dry = await InAsync(other, csv, table, write: false);
            dry.Problems.ShouldBeEmpty(table);
            dry.Facts.ShouldBe(dry.Rows, table);
            (await SaidAsync(other.Database, table)).ShouldBeEmpty($"{table}: a dry run writes nothing");
            (await InAsync(other, csv, table, write: true)).Written.ShouldBeTrue(table);
            (await SaidAsync(other.Database, table)).ShouldBe(await SaidAsync(Desks.Database, table), table);
            (await InAsync(other, csv, table, write: true)).Facts.ShouldBe(0, $"{table}: the same file twice changes nothing");
        }

        (await LedgerCheck.CheckAsync(other.Database, Cancel)).Differences.ShouldBeEmpty();
        var can = (await other.Mixing.ListCansAsync(cancel: Cancel)).ShouldHaveSingleItem();
        (can.Letter, can.ReadPH).ShouldBe(("A", 5.9));
    }

    [Fact]
    public async Task A_growers_own_sheet_of_packages_is_mapped_to_lots_and_what_cannot_be_is_named()
    {
        await FilledAsync();
        var mapping = new CsvMapping
        {
            Table = "lot.bought",
            DateFormat = "dd.MM.yyyy",
            Columns = new Dictionary<string, string> { ["productId"] = "What", ["grams"] = "g", ["note"] = "Remark", ["when"] = "Day" },
        };
        var report = await ReadAsync("What;g;Remark;Day\npotassium nitrate;1000;second bag;01.03.2026\nchalk;500;;01.03.2026\npH-down;-5;;01.03.2026\n", mapping, write: true);
        report.Problems.Select(problem => (problem.Row, problem.Field)).ShouldBe([(3, "productId"), (4, "grams")]);
        (await ReadAsync("What;g;Remark;Day\npotassium nitrate;1000;second bag;01.03.2026\n", mapping, write: true)).Written.ShouldBeTrue();
        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.Lots.ShouldContain(lot => lot.GramsLeft == 1000 && lot.Note == "second bag");
    }

    // A bench with awkward words in its cupboard and waters, and a can that was ticked and read.
    private async Task FilledAsync()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var random = new Random(20260315);
        const string Awkward = "=+-@'\t\r\n,;\" aä×日";
        string Words() => "x" + string.Concat(Enumerable.Range(0, random.Next(1, 12)).Select(_ => Awkward[random.Next(Awkward.Length)])) + "x";
        await Log.AppendAsync(Enumerable.Range(0, 40).Select(at => SmallBench.Fact(
            at % 2 == 0 ? Small.SaltLot : Guid.CreateVersion7(),
            at % 2 == 0 ? new LotWeighed(Small.SaltLot, random.NextDouble() * 500, Words()) : new WaterSet(Guid.CreateVersion7(), Words(), at % 3 == 0 ? null : random.NextDouble() * 1000, 0.01m * random.Next(100)),
            FactWhen.OnDay(new DateOnly(2026, 1, 6).AddDays(at), "UTC"))).Select(fact => fact.Payload is WaterSet water ? fact with { SubjectId = water.WaterId } : fact), Cancel);
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        for (var step = 1; step <= 4; step++)
            await Desks.Mixing.TickStepAsync(can, step, cancel: Cancel);
        await Log.AppendAsync(SmallBench.Fact(can, new CanRead(can, null, 615, 5.9, 20, Words())), Cancel);
    }

    private static Task<CsvReport> InAsync(BenchDesks desks, string csv, string table, bool write) =>
        desks.Exchange.ReadCsvAsync(new MemoryStream(Encoding.UTF8.GetBytes(csv)), new CsvMapping { Table = table }, write, Cancel);

    private static Task<List<(Guid Id, Guid Subject, string When, string Payload)>> SaidAsync(BenchDatabase database, string kind) => database.ReadAsync(
        db => Task.FromResult(db.Facts.Where(fact => fact.Kind == kind).OrderBy(fact => fact.Position).AsEnumerable().Select(fact => (fact.Id, fact.SubjectId, fact.When.ToText(), fact.Payload)).ToList()), Cancel);

    [Fact]
    public async Task Any_words_in_any_table_come_back_as_they_were()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var random = new Random(20260314);
        const string Awkward = "=+-@'\t\r\n,;\" aä×日";
        var texts = Enumerable.Range(0, 60).Select(_ => string.Concat(Enumerable.Range(0, random.Next(0, 12)).Select(_ => Awkward[random.Next(Awkward.Length)]))).Where(text => text.Trim().Length > 0).ToList();
        await Log.AppendAsync(texts.Select((text, at) => SmallBench.Fact(
            Small.FirstPlant, at % 2 == 0 ? new PlantNoted(Small.FirstPlant, text) : new PestChecked(Small.FirstPlant, [text, "scale"], text), FactWhen.OnDay(new DateOnly(2025, 1, 1).AddDays(at), "UTC"))), Cancel);
        await RoundTripAsync();
    }

    [Fact]
    public async Task A_set_with_a_file_that_is_none_of_ours_is_refused()
    {
        using var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            zip.CreateEntry("../../plant.arrived.csv").Open().Dispose();
        }

        (await Should.ThrowAsync<EntryException>(() => Desks.Exchange.ReadCsvSetAsync(stream, write: true, Cancel))).Message.ShouldContain("only tables");
    }

    [Fact]
    public async Task A_set_with_a_fact_missing_is_refused_and_the_bench_stays_empty()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        using var stream = new MemoryStream();
        await Desks.Exchange.WriteCsvSetAsync(stream, Cancel);
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true))
        {
            zip.GetEntry("plant.want.csv")!.Delete();
        }

        await using var other = new SqliteHost();
        await using var empty = await BenchDesks.OpenAsync(other.Options, clock: Clock, cancel: Cancel);
        (await Should.ThrowAsync<EntryException>(() => empty.Exchange.ReadCsvSetAsync(stream, write: true, Cancel))).Message.ShouldContain("without gaps");
        (await FactsAsync(empty.Database)).ShouldBeEmpty();
    }

    private async Task RoundTripAsync()
    {
        using var stream = new MemoryStream();
        await Desks.Exchange.WriteCsvSetAsync(stream, Cancel);
        await using var host = new SqliteHost();
        await using var other = await BenchDesks.OpenAsync(host.Options, clock: Clock, cancel: Cancel);
        stream.Position = 0;
        var tried = await other.Exchange.ReadCsvSetAsync(stream, write: false, Cancel);
        (await FactsAsync(other.Database)).ShouldBeEmpty();
        stream.Position = 0;
        (await other.Exchange.ReadCsvSetAsync(stream, write: true, Cancel)).ShouldBe(tried);
        (await FactsAsync(other.Database)).ShouldBe(await FactsAsync(Desks.Database));
        (await LedgerCheck.CheckAsync(other.Database, Cancel)).Differences.ShouldBeEmpty();
    }

    private Task<CsvReport> ReadAsync(string csv, CsvMapping mapping, bool write) => Desks.Exchange.ReadCsvAsync(new MemoryStream(Encoding.UTF8.GetBytes(csv)), mapping, write, Cancel);

    private async Task<string> WriteAsync(string table)
    {
        using var stream = new MemoryStream();
        await Desks.Exchange.WriteCsvAsync(table, stream, Cancel);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static Task<List<string>> FactsAsync(BenchDatabase database) => database.ReadAsync(
        db => Task.FromResult(db.Facts.OrderBy(fact => fact.Position).AsEnumerable().Select(fact => JsonSerializer.Serialize(fact)).ToList()), Cancel);
}

public sealed class CsvOnSqlite : CsvTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class CsvOnPostgres(PostgresServer server) : CsvTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
