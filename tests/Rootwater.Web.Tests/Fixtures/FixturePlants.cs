using Rootwater.Growing;
using Rootwater.Growing.Bench;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Web.Tests.Fixtures;

/// <summary>The desks of plants, facts, readings and the year on invented lives in memory; what pages write is kept for looking at.</summary>
public sealed class FixturePlants : IPlantDesk, IFactDesk, INutrientLedger, IReadingDesk, IYearDesk, IPhotoDesk, ISettingsDesk
{
    // A picture of one pixel.
    private static readonly byte[] s_dot = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==");

    private readonly List<PlantLife> _lives = [.. FixtureLives.All];
    private BenchSettings _settings = new("The lean-to", FixtureLives.Zone, FixtureLives.Today.ToDateTime(new TimeOnly(9, 30)), new ReadersUnits(), null);

    /// <summary>Everything that was written, in order.</summary>
    public List<NewFact> Written { get; } = [];

    /// <summary>Facts that were taken back.</summary>
    public List<Guid> TakenBack { get; } = [];

    /// <summary>Thrown by the next write.</summary>
    public Exception? Fault { get; set; }

    public Task<IReadOnlyList<PlantCard>> ListAsync(BenchQuery? query = null, CancellationToken cancel = default)
    {
        query ??= new BenchQuery();
        return Task.FromResult<IReadOnlyList<PlantCard>>([.. _lives.Select(life => life.Card).Where(card =>
            (query.WithLost || card.LostOn is null)
            && (query.Words is null || query.Words.Split(' ').All(word => $"{card.Number} {card.Name} {card.NameAsReceived} {card.Kind} {card.Place?.Name}".Contains(word, StringComparison.OrdinalIgnoreCase)))
            && (query.PlaceId is null || card.Place?.Id == query.PlaceId) && (query.Kind is null || card.Kind == query.Kind)
            && (query.State is null || card.States.Contains(query.State.Value)) && (query.Due is null || card.DaysOverdue is not null)
            && (query.Trouble is null || card.Trouble.Count > 0) && (query.InQuarantine is null || card.Quarantine is not null))]);
    }

    public Task<PlantLife?> GetAsync(Guid plantId, CancellationToken cancel = default) => Task.FromResult(_lives.FirstOrDefault(life => life.Card.Id == plantId));

    public async Task<PlantLife?> GetByNumberAsync(int number, CancellationToken cancel = default) =>
        _lives.FirstOrDefault(life => life.Card.Number == number) is { } life ? life with { Readings = await ListAsync(new ReadingQuery { PlantId = life.Card.Id }, cancel) } : null;

    public Task<int> NextNumberAsync(CancellationToken cancel = default) => Task.FromResult(37);

    public Task<IReadOnlyList<Place>> PlacesAsync(CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<Place>>([FixtureLives.Shelf, FixtureLives.Hanging, FixtureLives.Apart]);

    public Task<ForgetPreview> ForgetPreviewAsync(Guid plantId, CancellationToken cancel = default)
    {
        var card = _lives.First(life => life.Card.Id == plantId).Card;
        return Task.FromResult(new ForgetPreview(card.Number, card.Name, 412, 5, ["412 facts: its arrival, 10 leaves, 4 spikes, 380 feeds", "5 photos", "Backups made before keep it until they age out."]));
    }

    public async Task<ForgetPreview> ForgetAsync(Guid plantId, CancellationToken cancel = default)
    {
        var preview = await ForgetPreviewAsync(plantId, cancel);
        _lives.RemoveAll(life => life.Card.Id == plantId);
        return preview;
    }

    public Task<IReadOnlyList<PlantCard>> SoleSpecimensAsync(CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<PlantCard>>([.. _lives.Where(life => life.Card.Number == 14).Select(life => life.Card)]);

    public Task<WriteReceipt> WriteAsync(IReadOnlyList<NewFact> facts, string? who = null, string? device = null, CancellationToken cancel = default)
    {
        if (Fault is { } fault)
        {
            Fault = null;
            throw fault;
        }

        var fresh = facts.Where(fact => Written.All(known => known.Id != fact.Id)).ToList();
        Written.AddRange(fresh);
        return Task.FromResult(new WriteReceipt(fresh.Count, facts.Count - fresh.Count));
    }

    public Task UndoAsync(Guid factId, Guid undoId, string? why = null, CancellationToken cancel = default)
    {
        TakenBack.Add(factId);
        return Task.CompletedTask;
    }

    public Task<IReadOnlyList<FactLine>> RecentAsync(TimeSpan within, int most = 50, CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<FactLine>>(
    [
        .. Enumerable.Range(0, 30).Select(i => new FactLine
        {
            Id = FixtureLives.Id(500_000 + i),
            Kind = "plant.noted",
            SubjectId = FixtureLives.Id(17),
            Words = i % 3 == 0 ? "leaf 3: yellowing, the tip" : i % 3 == 1 ? "given 260 mL of can A" : "The wick had slipped out of the reservoir.",
            When = FactWhen.OnDay(FixtureLives.Today.AddDays(-i * 3), FixtureLives.Zone),
            RecordedAt = new DateTimeOffset(2026, 3, 14, 8, 0, 0, TimeSpan.Zero).AddDays(-i * 3),
            Who = "grower",
            TakenBack = i == 4,
            CanBeUndone = i == 0,
            Payload = i % 3 == 0 ? new LeafMarked(FixtureLives.Id(17), FixtureLives.Id(17103), LeafSign.Yellowing, LeafPart.Tip, null)
                : i % 3 == 1 ? new PlantGiven(FixtureLives.Id(17), null, Pouring.Feed, FixtureLives.Id(700), null, 260) : new PlantNoted(FixtureLives.Id(17), "The wick had slipped out of the reservoir."),
        }),
    ]);

    public Task<IReadOnlyList<NutrientWeek>> OfPlantAsync(Guid plantId, DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default)
    {
        var life = _lives.First(life => life.Card.Id == plantId);
        var monday = life.Arrived.EarliestDay.AddDays(-(((int)life.Arrived.EarliestDay.DayOfWeek + 6) % 7));
        var weeks = new List<NutrientWeek>();
        for (var week = 0; monday.AddDays(week * 7) <= FixtureLives.Today; week++)
        {
            var strength = 0.6 + 0.4 * Math.Sin(week / 8.3);
            weeks.Add(new NutrientWeek(
                monday.AddDays(week * 7),
                NutrientAmounts.From((Nutrient.NitrateNitrogen, 18 * strength), (Nutrient.AmmoniumNitrogen, 2 * strength), (Nutrient.Phosphorus, 4 * strength), (Nutrient.Potassium, 17 * strength), (Nutrient.Calcium, 14 * strength), (Nutrient.Magnesium, 5 * strength), (Nutrient.Sulfur, 6 * strength), (Nutrient.Iron, 0.3 * strength)),
                260, week % 4 == 0 ? 300 : 0, 800 * strength, 6.2 + 0.2 * Math.Sin(week / 5.0), week % 5 == 0 ? 6.25 + 0.2 * Math.Sin(week / 5.0) : null)
            { ForecastRootEcMicrosiemensPerCm = 900 + 200 * Math.Sin(week / 6.0) });
        }

        return Task.FromResult<IReadOnlyList<NutrientWeek>>(weeks);
    }

    public async Task<IReadOnlyDictionary<Guid, IReadOnlyList<NutrientWeek>>> OfBenchAsync(DateOnly? from = null, DateOnly? to = null, CancellationToken cancel = default)
    {
        var all = new Dictionary<Guid, IReadOnlyList<NutrientWeek>>();
        foreach (var life in _lives)
            all[life.Card.Id] = await OfPlantAsync(life.Card.Id, from, to, cancel);
        return all;
    }

    public Task<IReadOnlyList<ReadingView>> ListAsync(ReadingQuery query, CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<ReadingView>>(
    [
        .. Enumerable.Range(0, 60).Select(i => new ReadingView
        {
            Id = FixtureLives.Id(600_000 + i),
            Of = i % 4 == 3 ? ReadingOf.Runoff : ReadingOf.Reservoir,
            From = ReadingFrom.Typed,
            At = FixtureLives.Today.AddDays(-(59 - i) * 21).ToDateTime(new TimeOnly(9, 0)),
            PlantId = FixtureLives.Id(17),
            PlantNumber = 17,
            EcMicrosiemensPerCm = 900 + 300 * Math.Sin(i / 4.0),
            PH = 6.3 + 0.3 * Math.Sin(i / 3.0),
            TemperatureCelsius = 18,
        }).Where(reading => query.Of is null || reading.Of == query.Of).Where(_ => query.PlantId is null || query.PlantId == FixtureLives.Id(17)).Take(query.Most),
    ]);

    public Task<AirDayOnRecord?> AirDayAsync(Guid placeId, DateOnly day, ReadingFrom from, CancellationToken cancel = default) => Task.FromResult(
        Written.LastOrDefault(fact => fact.Payload is AirDay air && air.PlaceId == placeId && air.Day == day && air.From == from) is { Payload: AirDay told } known ? new AirDayOnRecord(known.Id, told.Samples) : null);

    public Task<IReadOnlyList<AirDayView>> AirAsync(Guid placeId, DateOnly from, DateOnly to, CancellationToken cancel = default) => Task.FromResult<IReadOnlyList<AirDayView>>(
        placeId != FixtureLives.Shelf.Id ? [] : [.. Enumerable.Range(0, Math.Min(365, to.DayNumber - from.DayNumber + 1)).Select(i =>
        {
            var day = to.AddDays(-i);
            var mean = 17 + 6 * Math.Sin((day.DayOfYear - 110) / 58.0);
            return new AirDayView(day, mean - 4, mean, mean + 5, 0.4 + mean / 60, 5 + 3 * Math.Sin((day.DayOfYear - 80) / 58.0), []);
        }).Reverse()]);

    public Task<PlantWindow?> WindowAsync(Guid plantId, CancellationToken cancel = default) => Task.FromResult<PlantWindow?>(new PlantWindow("strong growth", new Band(6.0, 6.2, 6.6), new Band(600, 800, 1000), "common practice, no source"));

    public Task<LoggerPreview> PreviewLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default) => Task.FromResult(new LoggerPreview(288, 3, FixtureLives.Today.AddDays(-3), FixtureLives.Today.AddDays(-1), ["line 17: \"n/a\" is no temperature; left out."]));

    public Task<LoggerPreview> ImportLoggerAsync(Stream csv, LoggerMapping mapping, CancellationToken cancel = default) => PreviewLoggerAsync(csv, mapping, cancel);

    public Task<YearSheet> GetAsync(int? year = null, CancellationToken cancel = default) => Task.FromResult(new YearSheet(
        [2020, 2021, 2022, 2023, 2024, 2025, 2026],
        [.. _lives.Select(life => new YearLine(life.Card,
        [
            .. life.Growths.SelectMany(growth => growth.Spikes).SelectMany(spike => new[] { new YearSpan(YearMark.Spike, spike.FirstSeen.Middle, spike.Ended?.Middle, null), spike.FirstFlower is { } first ? new YearSpan(YearMark.Bloom, first.Middle, spike.LastFlower?.Middle, $"{spike.Flowers} flowers, {spike.Scent}") : null }).OfType<YearSpan>(),
            .. life.NewRoots.Select(roots => new YearSpan(YearMark.NewRoots, roots.When.Middle, roots.When.Middle, null)),
            .. life.Pots.Skip(1).Select(pot => new YearSpan(YearMark.Repotted, pot.From, pot.From, pot.Pot.Medium)),
            .. life.Card.Number == 18 ? Enumerable.Range(2020, 6).Select(at => new YearSpan(YearMark.Rest, new DateOnly(at, 11, 10), at == 2025 ? null : new DateOnly(at + 1, 2, 20), "dry rest")) : [],
        ]))]));

    public Task<PhotoView> AddAsync(NewPhoto photo, Stream content, CancellationToken cancel = default) => Task.FromResult(new PhotoView(photo.Id, photo.PlantId, photo.TakenAt ?? DateTime.MinValue, photo.Caption, 1, 1, 1, "00"));

    Task<IReadOnlyList<PhotoView>> IPhotoDesk.ListAsync(Guid plantId, CancellationToken cancel) => Task.FromResult(_lives.First(life => life.Card.Id == plantId).Photos);

    public Task<Stream?> OpenAsync(Guid photoId, PhotoSize size, CancellationToken cancel = default) => Task.FromResult<Stream?>(new MemoryStream(s_dot));

    Task<BenchSettings> ISettingsDesk.GetAsync(CancellationToken cancel) => Task.FromResult(_settings);

    public Task<BenchSettings> SaveAsync(ReadersUnits units, string? baseAddress, Guid? id = null, CancellationToken cancel = default) =>
        Task.FromResult(_settings = _settings with { Units = units, BaseAddress = baseAddress });

    public Task<BenchSettings> SaveLatitudeAsync(double? degrees, Guid? id = null, CancellationToken cancel = default) => Task.FromResult(_settings = _settings with { LatitudeDegrees = degrees });
}
