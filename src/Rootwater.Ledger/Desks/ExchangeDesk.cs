using System.Globalization;
using System.Runtime.CompilerServices;
using CsvHelper;
using Microsoft.EntityFrameworkCore;
using Rootwater.Ledger.Exchange;
using Rootwater.Ledger.Exchange.Archive;
using Rootwater.Ledger.Exchange.Calendar;
using Rootwater.Ledger.Exchange.Csv;
using Rootwater.Ledger.Exchange.DarwinCore;
using Rootwater.Ledger.Exchange.Print;
using Rootwater.Ledger.Exchange.Story;
using Rootwater.Ledger.Photos;

namespace Rootwater.Ledger.Desks;

/// <summary>Exchange over the ledger and the other desks.</summary>
public sealed class ExchangeDesk(
    BenchDatabase database, FactLog log, IPlantDesk plants, IPhotoDesk photos, IMixingDesk cans, ISettingsDesk settings, IRoundDesk rounds, ISeasonDesk seasons, ITriedDesk tried, TimeProvider clock) : IExchangeDesk
{
    /// <summary>The longer side of a picture within a story: a dozen of them still go by mail.</summary>
    private static readonly PictureLimits s_storyPicture = new() { KeptSide = 1000 };

    private const int CalendarDays = 42;

    public IReadOnlyList<string> Tables => CsvImport.TableNames;

    public IReadOnlyList<string> FieldsOf(string table) => table == "plants" ? PlantTable.Columns : [.. Sheet(table).Columns];

    public async Task WriteCsvAsync(string table, Stream to, CancellationToken cancel = default)
    {
        if (table != "plants")
        {
            await CsvSet.WriteTableAsync(database, Sheet(table), to, cancel);
            return;
        }

        var wants = await database.ReadAsync(async db => (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Name), cancel);
        await using var csv = CsvWriter.Create(to, CsvWriterOptions.Default, leaveOpen: true);
        csv.WriteRecord([.. PlantTable.Columns]);
        await foreach (var plant in LivesAsync(cancel))
        {
            csv.WriteRecord(PlantTable.Write(plant, wants));
        }

        await csv.FlushAsync(cancel);
    }

    public Task WriteCsvSetAsync(Stream to, CancellationToken cancel = default) => CsvSet.WriteAsync(database, to, cancel);

    public Task<CsvReport> ReadCsvAsync(Stream csv, CsvMapping mapping, bool write, CancellationToken cancel = default) =>
        new CsvImport(database, log, plants, clock).RunAsync(csv, mapping, write, cancel);

    public async Task<long> ReadCsvSetAsync(Stream zip, bool write, CancellationToken cancel = default)
    {
        var facts = await CsvSet.ReadAsync(zip, cancel);
        await WholeBench.ImportAsync(database, facts, facts.Count, write, null, cancel);
        return facts.Count;
    }

    public Task<ArchiveManifest> WriteArchiveAsync(Stream to, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default) =>
        ArchiveWriter.WriteAsync(database, to, clock.GetUtcNow(), progress: progress, cancel: cancel);

    public async Task<ArchiveReceipt> ReadArchiveAsync(Stream from, bool write, IProgress<ExchangeProgress>? progress = null, CancellationToken cancel = default)
    {
        using var archive = ArchiveReader.Open(from);
        return write ? await archive.RestoreAsync(database, progress, cancel) : await archive.CheckAsync(progress, cancel);
    }

    public Task<int> WriteDarwinCoreAsync(Stream to, CancellationToken cancel = default) => DarwinCoreArchive.WriteAsync(to, LivesAsync(cancel));

    public async Task<string> CalendarAsync(string? baseAddress = null, CancellationToken cancel = default)
    {
        var bench = await settings.GetAsync(cancel);
        var at = bench.BaseAddress ?? baseAddress;
        var entries = (await rounds.ComingAsync(CalendarDays, cancel)).Select(day => new CalendarEntry(
            $"due-{day.On:yyyyMMdd}", day.On, day.On, day.Stops.Count == 1 ? $"Round: no. {day.Stops[0].Plant.Number} is due" : $"Round: {day.Stops.Count} plants are due",
            string.Join("\n", day.Stops.Select(stop => string.Create(CultureInfo.InvariantCulture, $"no. {stop.Plant.Number} {stop.Plant.Name}{(stop.Plant.Place is { } place ? $", {place.Name}" : "")}: {Words(stop.What)}"))),
            Address(at, "/round"))).ToList();
        foreach (var bloom in (await seasons.GetAsync(cancel)).Forecasts.Where(forecast => forecast.Mark == SeasonMark.Bloom))
        {
            entries.Add(new CalendarEntry($"bloom-{bloom.Plant.Id:N}", bloom.Early, bloom.Late,
                string.Create(CultureInfo.InvariantCulture, $"No. {bloom.Plant.Number} {bloom.Plant.Name} may open"), $"Expected by {bloom.Why}.", Address(at, $"/p/{bloom.Plant.Number.ToString(CultureInfo.InvariantCulture)}")));
        }

        return CalendarFeed.Write(bench.Name ?? "Rootwater", entries, clock.GetUtcNow());
    }

    private static string Words(Facts.Pouring what) => what switch { Facts.Pouring.Feed => "feed", Facts.Pouring.Leach => "leach", _ => "plain water" };

    public async Task<bool> WriteTagAsync(Guid plantId, Stream to, string? baseAddress = null, CancellationToken cancel = default)
    {
        if ((await plants.ListAsync(new BenchQuery { WithLost = true }, cancel)).FirstOrDefault(card => card.Id == plantId) is not { } plant)
        {
            return false;
        }

        TagSheet.WriteOne(to, Tag(plant, (await settings.GetAsync(cancel)).BaseAddress ?? baseAddress), clock.GetUtcNow());
        return true;
    }

    public async Task WriteTagsAsync(Stream to, IReadOnlyCollection<int>? numbers = null, string? baseAddress = null, CancellationToken cancel = default)
    {
        var cards = (await plants.ListAsync(cancel: cancel)).Where(card => numbers is null || numbers.Contains(card.Number)).ToList();
        if (numbers?.Except(cards.Select(card => card.Number)).ToList() is { Count: > 0 } missing)
        {
            throw new EntryException("numbers", string.Join(", ", missing), "numbers of plants on this bench");
        }

        var at = (await settings.GetAsync(cancel)).BaseAddress ?? baseAddress;
        TagSheet.WriteSheets(to, cards.ConvertAll(card => Tag(card, at)), clock.GetUtcNow());
    }

    public async Task<bool> WriteMixingCardAsync(Guid canId, Stream to, string? baseAddress = null, CancellationToken cancel = default)
    {
        if (await cans.GetCanAsync(canId, cancel) is not { } can)
        {
            return false;
        }

        MixingCard.Write(to, can, Address((await settings.GetAsync(cancel)).BaseAddress ?? baseAddress, $"/mixing/can/{canId}")?.ToString(), clock.GetUtcNow());
        return true;
    }

    public async Task<string?> StoryAsync(Guid plantId, StoryOptions? options = null, CancellationToken cancel = default)
    {
        if (await plants.GetAsync(plantId, cancel) is not { } plant)
        {
            return null;
        }

        var pictures = new List<StoryPhoto>();
        foreach (var photo in await photos.ListAsync(plantId, cancel))
        {
            await using var picture = await photos.OpenAsync(photo.Id, PhotoSize.Whole, cancel);
            if (picture is not null)
            {
                pictures.Add(new StoryPhoto(DateOnly.FromDateTime(photo.TakenAt), photo.Caption, (await PictureCleaner.CleanAsync(picture, s_storyPicture, cancel)).Jpeg));
            }
        }

        var ticked = options ?? new StoryOptions();
        return PlantStoryPage.Write(plant, pictures, ticked, (await settings.GetAsync(cancel)).Today, ticked.Tried ? await tried.OfPlantAsync(plantId, cancel) : null);
    }

    // One life at a time: a large bench has a hundred megabytes of them.
    private async IAsyncEnumerable<PlantLife> LivesAsync([EnumeratorCancellation] CancellationToken cancel)
    {
        foreach (var card in (await plants.ListAsync(new BenchQuery { WithLost = true }, cancel)).OrderBy(card => card.Number))
        {
            if (await plants.GetAsync(card.Id, cancel) is { } life)
            {
                yield return life;
            }
        }
    }

    private static PlantTag Tag(PlantCard plant, string? at) => new(plant.Number, plant.Name, Address(at, $"/p/{plant.Number.ToString(CultureInfo.InvariantCulture)}")?.ToString());

    // Without a base there is no address; a bare path would be taken for a file of this machine.
    private static Uri? Address(string? at, string path) =>
        Uri.TryCreate(at, UriKind.Absolute, out var root) && root.Scheme is "http" or "https" && Uri.TryCreate(at!.TrimEnd('/') + path, UriKind.Absolute, out var address) ? address : null;

    private static FactSheet Sheet(string table) => FactSheet.Of(table) ?? throw new EntryException("table", table, $"one of {string.Join(", ", CsvImport.TableNames)}");
}
