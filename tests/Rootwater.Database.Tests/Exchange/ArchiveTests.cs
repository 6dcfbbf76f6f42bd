using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Exchange;

/// <summary>One file that makes the same bench anywhere, and refuses what is not one.</summary>
public sealed class ArchiveTests(PostgresServer server) : IAsyncLifetime
{
    private readonly SqliteHost _sqlite = new();
    private readonly SqliteHost _other = new();
    private PostgresHost? _postgres;

    private static readonly DateTimeOffset s_now = new(2026, 3, 14, 9, 0, 0, TimeSpan.Zero);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_bench_goes_from_file_to_server_and_back_and_nothing_of_it_changes()
    {
        await server.RequireAsync();
        _postgres = await PostgresHost.MakeAsync(server);
        await using var first = await BenchDatabase.OpenAsync(_sqlite.Options, Cancel);
        await LeanTo.FillIfEmptyAsync(first, TimeProvider.System, cancel: Cancel);
        await using var second = await BenchDatabase.OpenAsync(_postgres.Options, Cancel);
        await using var third = await BenchDatabase.OpenAsync(_other.Options, Cancel);

        await CarryAsync(first, second);
        await CarryAsync(second, third);

        var was = await FactsAsync(first);
        was.Count.ShouldBeGreaterThan(500);
        (await FactsAsync(second)).ShouldBe(was);
        (await FactsAsync(third)).ShouldBe(was);
        (await LedgerCheck.CheckAsync(third, Cancel)).Differences.ShouldBeEmpty();
    }

    [Fact]
    public async Task An_archive_is_not_mixed_into_a_bench_that_holds_anything()
    {
        await using var first = await SmallAsync(_sqlite);
        await using var second = await SmallAsync(_other);
        var was = await FactsAsync(second);

        (await Should.ThrowAsync<EntryException>(() => CarryAsync(first, second))).Message.ShouldContain("empty one");
        (await FactsAsync(second)).ShouldBe(was);
    }

    [Theory]
    [InlineData("../../outside.txt")]
    [InlineData("/etc/cron.d/evil")]
    [InlineData("photos\\..\\..\\evil.jpg")]
    [InlineData("facts/00001.jsonl/../../evil")]
    [InlineData("photos/evil.html")]
    public Task A_name_that_does_not_belong_in_it_is_refused(string name) =>
        RefusedAsync(zip => Put(zip, name, "x"), "only manifest.json");

    [Fact]
    public Task A_bomb_is_refused_before_it_is_unpacked() =>
        RefusedAsync(zip => Put(zip, "facts/99999.jsonl", new string(' ', 40 << 20)), "times their size");

    [Fact]
    public Task A_part_that_comes_twice_is_refused() =>
        RefusedAsync(zip => Put(zip, "facts/00001.jsonl", "x"), "every part once");

    [Fact]
    public Task A_part_the_manifest_does_not_name_is_refused() =>
        RefusedAsync(zip => Put(zip, "facts/00009.jsonl", "x"), "the manifest does not name");

    [Fact]
    public Task A_changed_fact_is_noticed_by_its_hash() => RefusedAsync(zip => Change(zip, "facts/00001.jsonl", text => text.Replace("small bench", "stolen bench", StringComparison.Ordinal)), "fits the hash");

    [Fact]
    public Task A_newer_archive_is_left_to_the_newer_program() => RefusedAsync<LedgerProblem>(zip => Manifest(zip, manifest => manifest["version"] = 99), "version 99");

    [Fact]
    public Task A_zip_of_something_else_is_refused() => RefusedAsync(zip => Manifest(zip, manifest => manifest["format"] = "holiday photos"), "the format");

    [Theory]
    [InlineData("null")]
    [InlineData("[]")]
    [InlineData("{\"format\":\"rootwater-bench\",\"version\":1,\"program\":\"x\",\"madeAt\":\"2026-01-01T00:00:00Z\",\"facts\":0,\"parts\":null,\"photos\":null}")]
    [InlineData("{\"format\":\"rootwater-bench\",\"version\":1}")]
    public Task A_manifest_of_the_wrong_shape_is_refused(string manifest) => RefusedAsync(zip => Replace(zip, "manifest.json", manifest), "manifest");

    [Fact]
    public Task A_page_in_place_of_a_picture_is_refused() => RefusedAsync(zip =>
    {
        var page = "<html><script>alert(1)</script></html>";
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(page)));
        Put(zip, $"photos/{hash}.jpg", page);
        Manifest(zip, manifest => manifest["photos"]!.AsArray().Add(hash));
    }, "a JPEG as Rootwater keeps them");

    [Theory]
    [InlineData("\"kind\":\"bench.opened\"", "\"kind\":\"drop.tables\"")]
    [InlineData("\"position\":1,", "\"position\":7,")]
    [InlineData("\"precision\":\"Minute\"", "\"precision\":\"Century\"")]
    [InlineData("\"who\":\"grower\"", "\"who\":\"grower\",\"evil\":1")]
    [InlineData("{\"id\"", "[\"id\"")]
    public Task A_line_that_is_no_fact_of_ours_is_refused(string from, string to) => RefusedAsync<Exception>(zip =>
    {
        Change(zip, "facts/00001.jsonl", text => text.Replace(from, to, StringComparison.Ordinal));
        Manifest(zip, manifest => manifest["parts"]![0]!["sha256"] = Convert.ToHexStringLower(SHA256.HashData(Read(zip, "facts/00001.jsonl"))));
    }, "");

    [Fact]
    public async Task A_file_that_is_no_zip_is_refused() =>
        (await Should.ThrowAsync<EntryException>(() => ReadAsync(new MemoryStream("PK but not really"u8.ToArray())))).Message.ShouldContain("no whole ZIP");

    [Fact]
    public async Task A_torn_archive_is_refused()
    {
        await using var bench = await SmallAsync(_sqlite);
        var whole = (await ArchiveAsync(bench)).ToArray();
        await Should.ThrowAsync<EntryException>(() => ReadAsync(new MemoryStream(whole[..(whole.Length * 2 / 3)])));
    }

    private Task RefusedAsync(Action<ZipArchive> spoil, string because) => RefusedAsync<EntryException>(spoil, because);

    // Whatever is wrong: it is said, and the empty bench stays empty.
    private async Task RefusedAsync<TProblem>(Action<ZipArchive> spoil, string because) where TProblem : Exception
    {
        await using var bench = await SmallAsync(_sqlite);
        var stream = await ArchiveAsync(bench);
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true))
        {
            spoil(zip);
        }

        var refused = await Should.ThrowAsync<TProblem>(() => ReadAsync(stream));
        refused.ShouldBeAssignableTo<Exception>();
        (refused is EntryException or LedgerProblem).ShouldBeTrue(refused.ToString());
        refused.Message.ShouldContain(because);
        await using var empty = await BenchDatabase.OpenAsync(_other.Options, Cancel);
        (await FactsAsync(empty)).ShouldBeEmpty();
        Directory.Exists(empty.PhotosFolder).ShouldBeFalse();
    }

    private async Task ReadAsync(MemoryStream stream)
    {
        await using var into = await BenchDatabase.OpenAsync(_other.Options, Cancel);
        stream.Position = 0;
        using var archive = ArchiveReader.Open(stream);
        await archive.RestoreAsync(into, cancel: Cancel);
    }

    private static async Task CarryAsync(BenchDatabase from, BenchDatabase to)
    {
        using var archive = ArchiveReader.Open(await ArchiveAsync(from));
        await archive.CheckAsync(cancel: Cancel);
        await archive.RestoreAsync(to, cancel: Cancel);
    }

    private static async Task<MemoryStream> ArchiveAsync(BenchDatabase bench)
    {
        var stream = new MemoryStream();
        await ArchiveWriter.WriteAsync(bench, stream, s_now, cancel: Cancel);
        stream.Position = 0;
        return stream;
    }

    private static async Task<BenchDatabase> SmallAsync(SqliteHost host)
    {
        var database = await BenchDatabase.OpenAsync(host.Options, Cancel);
        await new FactLog(database, TimeProvider.System).AppendAsync(new SmallBench().Facts(), Cancel);
        return database;
    }

    private static Task<List<string>> FactsAsync(BenchDatabase database) => database.ReadAsync(
        db => Task.FromResult(db.Facts.OrderBy(fact => fact.Position).AsEnumerable().Select(fact => JsonSerializer.Serialize(fact)).ToList()), Cancel);

    private static void Put(ZipArchive zip, string name, string content)
    {
        using var entry = zip.CreateEntry(name).Open();
        entry.Write(Encoding.UTF8.GetBytes(content));
    }

    private static void Replace(ZipArchive zip, string name, string content)
    {
        zip.GetEntry(name)!.Delete();
        Put(zip, name, content);
    }

    private static void Change(ZipArchive zip, string name, Func<string, string> change)
    {
        var text = Encoding.UTF8.GetString(Read(zip, name));
        var changed = change(text);
        changed.ShouldNotBe(text, "the test must spoil something");
        Replace(zip, name, changed);
    }

    private static void Manifest(ZipArchive zip, Action<JsonObject> change)
    {
        var manifest = JsonNode.Parse(Read(zip, "manifest.json"))!.AsObject();
        change(manifest);
        Replace(zip, "manifest.json", manifest.ToJsonString());
    }

    private static byte[] Read(ZipArchive zip, string name)
    {
        using var entry = zip.GetEntry(name)!.Open();
        using var bytes = new MemoryStream();
        entry.CopyTo(bytes);
        return bytes.ToArray();
    }

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        await _sqlite.DisposeAsync();
        await _other.DisposeAsync();
        if (_postgres is not null)
        {
            await _postgres.DisposeAsync();
        }
    }
}
