using System.Globalization;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Projections;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;

namespace Rootwater.Database.Tests.Laws;

/// <summary>Whatever was told of a bench, in whatever order: out and in again, as an archive or as tables, it is the same bench.</summary>
public abstract class ExchangeLaws : OnADatabase
{
    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    public async Task An_archive_out_and_in_gives_the_same_bench(int seed)
    {
        await TellAsync(seed);
        using var stream = new MemoryStream();
        var manifest = await Desks.Exchange.WriteArchiveAsync(stream, cancel: Cancel);
        manifest.Photos.Count.ShouldBe(2);
        await using var host = new SqliteHost();
        await using var other = await BenchDesks.OpenAsync(host.Options, clock: Clock, cancel: Cancel);

        await other.Exchange.ReadArchiveAsync(stream, write: true, cancel: Cancel);

        await SameAsync(other);
        foreach (var photo in await other.Photos.ListAsync(Small.FirstPlant, Cancel))
        {
            // The careless grower also tells of pictures that never were: they are named as missing, and stay so.
            await using var there = await other.Photos.OpenAsync(photo.Id, PhotoSize.Whole, Cancel);
            await using var here = await Desks.Photos.OpenAsync(photo.Id, PhotoSize.Whole, Cancel);
            Bytes(there).ShouldBe(Bytes(here));
            (here is null).ShouldBe(manifest.MissingPhotos.Contains(photo.Sha256));
        }
    }

    [Theory]
    [InlineData(21)]
    [InlineData(22)]
    public async Task All_tables_out_and_in_give_the_same_bench(int seed)
    {
        await TellAsync(seed);
        using var stream = new MemoryStream();
        await Desks.Exchange.WriteCsvSetAsync(stream, Cancel);
        await using var host = new SqliteHost();
        await using var other = await BenchDesks.OpenAsync(host.Options, clock: Clock, cancel: Cancel);

        await other.Exchange.ReadCsvSetAsync(stream, write: true, Cancel);

        await SameAsync(other);
    }

    [Fact]
    public async Task What_was_forgotten_stays_forgotten_on_the_way()
    {
        await TellAsync(31);
        await Desks.Plants.ForgetAsync(Small.SecondPlant, Cancel);
        using var archive = new MemoryStream();
        await Desks.Exchange.WriteArchiveAsync(archive, cancel: Cancel);
        using var set = new MemoryStream();
        await Desks.Exchange.WriteCsvSetAsync(set, Cancel);
        foreach (var read in (Func<BenchDesks, Task>[])[desks => desks.Exchange.ReadArchiveAsync(archive, write: true, cancel: Cancel), desks => desks.Exchange.ReadCsvSetAsync(set, write: true, Cancel)])
        {
            await using var host = new SqliteHost();
            await using var other = await BenchDesks.OpenAsync(host.Options, clock: Clock, cancel: Cancel);
            await read(other);
            await SameAsync(other);
            (await other.Plants.GetAsync(Small.SecondPlant, Cancel)).ShouldBeNull();
        }
    }

    private async Task TellAsync(int seed)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        await new RandomHistory(Desks, Small, can, seed).RunAsync(60, Cancel);
        for (var width = 40; width < 42; width++)
        {
            using var image = new Image<Rgb24>(width, 30, new Rgb24(90, 160, 40));
            using var picture = new MemoryStream();
            image.SaveAsJpeg(picture);
            picture.Position = 0;
            await Desks.Photos.AddAsync(new NewPhoto { PlantId = Small.FirstPlant, Caption = "=cap,tion\"" }, picture, Cancel);
        }
    }

    private async Task SameAsync(BenchDesks other)
    {
        (await FactsAsync(other.Database)).ShouldBe(await FactsAsync(Desks.Database));
        (await LedgerCheck.CheckAsync(other.Database, Cancel)).Differences.ShouldBeEmpty();
        var (was, now) = ((await Desks.Plants.GetAsync(Small.FirstPlant, Cancel))!, (await other.Plants.GetAsync(Small.FirstPlant, Cancel))!);
        JsonSerializer.Serialize(now).ShouldBe(JsonSerializer.Serialize(was));
    }

    private static Task<List<string>> FactsAsync(BenchDatabase database) => database.ReadAsync(
        async db => (await db.Facts.OrderBy(fact => fact.Position).ToListAsync(Cancel)).ConvertAll(fact => string.Create(CultureInfo.InvariantCulture, $"{JsonSerializer.Serialize(fact)}")), Cancel);

    private static byte[] Bytes(Stream? stream)
    {
        using var bytes = new MemoryStream();
        stream?.CopyTo(bytes);
        return bytes.ToArray();
    }
}

public sealed class ExchangeLawsOnSqlite : ExchangeLaws
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class ExchangeLawsOnPostgres(PostgresServer server) : ExchangeLaws
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
