using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Climate;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Readings over the ledger.</summary>
public sealed class ReadingDesk(BenchDatabase database, IFactDesk facts, BenchTime time) : IReadingDesk
{
    // Facts of a day are large; a few weeks of them make one write.
    private const int DaysAtOnce = 60;

    public Task<IReadOnlyList<ReadingView>> ListAsync(ReadingQuery query, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<ReadingView>>(async db =>
    {
        var asked = db.TakenReadings.AsQueryable();
        if (query.PlantId is { } plant)
            asked = asked.Where(reading => reading.PlantId == plant);
        if (query.PlaceId is { } place)
            asked = asked.Where(reading => reading.PlaceId == place);
        if (query.Of is { } of)
            asked = asked.Where(reading => reading.Of == of);
        if (query.From is { } from)
            asked = asked.Where(reading => string.Compare(reading.At, from.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)) >= 0);
        if (query.To is { } to)
            asked = asked.Where(reading => string.Compare(reading.At, to.AddDays(1).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture)) < 0);

        // The newest of them, shown oldest first.
        var rows = await asked.OrderByDescending(reading => reading.At).Take(Math.Clamp(query.Most, 1, 100_000)).ToListAsync(cancel);
        var ids = rows.Select(row => row.PlantId).OfType<Guid>().Distinct().ToList();
        var numbers = await db.Plants.Where(row => ids.Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Number, cancel);
        return [.. rows.AsEnumerable().Reverse().Select(row => row.ToView(row.PlantId is { } id && numbers.TryGetValue(id, out var number) ? number : null))];
    }, cancel);

    public Task<IReadOnlyList<AirDayView>> AirAsync(Guid placeId, DateOnly from, DateOnly to, CancellationToken cancel = default) => database.ReadAsync<IReadOnlyList<AirDayView>>(async db =>
    {
        var place = await db.Places.FindAsync([placeId], cancel) ?? throw new EntryException("place", placeId.ToString(), "a place on this bench");
        var lamp = LampOf(place.Light);
        var days = await db.AirDays.Where(day => day.PlaceId == placeId && day.Day >= from && day.Day <= to).ToListAsync(cancel);
        // Of a logger and a probe that both read a day, the one that read more of it counts.
        return [.. days.GroupBy(day => day.Day).OrderBy(group => group.Key).Select(group => View(group.MaxBy(day => day.Samples.Count)!, lamp))];
    }, cancel);

    public Task<AirDayOnRecord?> AirDayAsync(Guid placeId, DateOnly day, ReadingFrom from, CancellationToken cancel = default) => database.ReadAsync(async db =>
        await db.AirDays.FirstOrDefaultAsync(row => row.PlaceId == placeId && row.Day == day && row.From == from, cancel) is { } row ? new AirDayOnRecord(row.FactId, row.Samples) : null, cancel);

    public Task<PlantWindow?> WindowAsync(Guid plantId, CancellationToken cancel = default) => database.ReadAsync(async db =>
        await (from plant in db.Plants where plant.Id == plantId join want in db.Wants on plant.WantId equals (Guid?)want.Id select want).FirstOrDefaultAsync(cancel) is { } row
            ? new PlantWindow(row.Want.Name, row.Want.RootPH, row.Want.EcMicrosiemensPerCm, row.Want.Source)
            : null, cancel);

    public async Task<LoggerPreview> PreviewLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default) => (await LoggerFile.ReadAsync(csv, mapping, cancel)).Preview;

    public async Task<LoggerPreview> ImportLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default)
    {
        var file = await LoggerFile.ReadAsync(csv, mapping, cancel);
        if (file.Days.Count == 0)
            throw new EntryException("file", null, "no row could be read: " + string.Join(" ", file.Preview.Problems.Take(3)));
        var zone = await time.ZoneAsync(cancel);
        foreach (var days in file.Days.Chunk(DaysAtOnce))
        {
            var (first, last) = (days[0].Day, days[^1].Day);
            var standing = await database.ReadAsync(async db => (await db.AirDays.Where(day => day.PlaceId == mapping.PlaceId && day.From == ReadingFrom.Logger && day.Day >= first && day.Day <= last)
                .ToListAsync(cancel)).ToDictionary(day => day.Day), cancel);
            await facts.WriteAsync(
                [
                    .. days.Where(day => !standing.TryGetValue(day.Day, out var known) || !known.Samples.SequenceEqual(day.Samples)).Select(day => new NewFact
                    {
                        Id = Guid.CreateVersion7(),
                        SubjectId = mapping.PlaceId,
                        Payload = new AirDay(mapping.PlaceId, day.Day, ReadingFrom.Logger, day.Samples),
                        When = FactWhen.OnDay(day.Day, zone),
                        Corrects = standing.GetValueOrDefault(day.Day)?.FactId,
                    }),
                ],
                device: "logger file", cancel: cancel);
        }

        return file.Preview;
    }

    /// <summary>Which lamp's factor turns lux into photons at a place: the one its light is described by, else the sun.</summary>
    public static Lamp LampOf(string light) => Lamp.All.FirstOrDefault(lamp => light.Contains(lamp.Name, StringComparison.OrdinalIgnoreCase))
        ?? (light.Contains("LED", StringComparison.Ordinal) ? Lamp.Named("white LED")! : Lamp.Sun);

    /// <summary>The lamp of every place.</summary>
    internal static async Task<IReadOnlyDictionary<Guid, Lamp>> LampsAsync(LedgerContext db, CancellationToken cancel) =>
        (await db.Places.Select(place => new { place.Id, place.Light }).ToListAsync(cancel)).ToDictionary(place => place.Id, place => LampOf(place.Light));

    private static AirDayView View(AirDayRow day, Lamp lamp)
    {
        var summary = AirDaySummary.Of([.. day.Samples.Select(sample => new AirMoment(sample.Minute, sample.TemperatureCelsius, sample.RelativeHumidity, sample.PpfdMicromolesPerSquareMetrePerSecond, sample.Lux))], lamp);
        return new AirDayView(day.Day, summary.LowCelsius, summary.MeanCelsius, summary.HighCelsius, summary.MeanVpdKilopascals, summary.DailyLightMoles, day.Samples);
    }
}
