using Microsoft.EntityFrameworkCore;
using Rootwater.Chemistry.Species;
using Rootwater.Growing;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Pots.Calibration;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Ledger.Desks;

/// <content>Readings and soak tests in.</content>
public sealed partial class PotLearningDesk
{
    private static readonly string s_soaked = FactKinds.NameOf<MediumSoaked>();
    private IReadOnlyList<Soak> _soaks = [];

    public async Task<IReadOnlyList<InputProblem>> CheckAsync(NewPotReading reading, CancellationToken cancel = default)
    {
        var record = await RecordAsync(reading.PlantNumber, cancel);
        var inReservoir = reading.OfReservoir && record.Pot.ReservoirLitres > 0;
        var problems = new List<InputProblem>();
        if (reading is { EcMicrosiemensPerCm: null, PH: null, LevelLitres: null })
        {
            problems.Add(InputProblem.Error("reading", null, "Accepted: at least one of EC, pH and level."));
        }

        if (reading.OfReservoir && record.Pot.ReservoirLitres <= 0)
        {
            problems.Add(InputProblem.Error("of", "reservoir", "This pot has no reservoir; what can be read is what runs out below."));
        }

        var now = await NowAsync(cancel);
        Look(inReservoir ? ReadingKind.ReservoirEc : ReadingKind.MediumEc, reading.EcMicrosiemensPerCm);
        Look(inReservoir ? ReadingKind.ReservoirPH : ReadingKind.MediumPH, reading.PH);
        Look(ReadingKind.ReservoirLitres, reading.LevelLitres);
        return problems;

        void Look(ReadingKind kind, double? value)
        {
            if (value is { } read)
            {
                problems.AddRange(ReadingEntry.Check(kind, read, record.Pot.ReservoirLitres, Expected(record, kind, now)));
            }
        }
    }

    public async Task<Guid> ReadAsync(NewPotReading reading, CancellationToken cancel = default)
    {
        Refuse(await CheckAsync(reading, cancel));
        var record = await RecordAsync(reading.PlantNumber, cancel);
        await facts.WriteAsync(
            [
                new NewFact
                {
                    Id = reading.Id,
                    SubjectId = record.Plant.Id,
                    Payload = new ReadingTaken
                    {
                        ReadingId = reading.Id,
                        Of = reading.OfReservoir ? ReadingOf.Reservoir : ReadingOf.Runoff,
                        PlantId = record.Plant.Id,
                        PotId = record.Pot.Id,
                        EcMicrosiemensPerCm = reading.EcMicrosiemensPerCm,
                        PH = reading.PH,
                        LevelShare = reading.LevelLitres is { } litres && record.Pot.ReservoirLitres > 0 ? Math.Clamp(litres / record.Pot.ReservoirLitres, 0, 1) : null,
                        Note = string.IsNullOrWhiteSpace(reading.Note) ? null : reading.Note,
                    },
                },
            ],
            cancel: cancel);
        _stopped = false;
        RefreshSoon();
        return reading.Id;
    }

    public IReadOnlyList<InputProblem> CheckSoak(NewSoak soak)
    {
        var problems = new List<InputProblem>();
        if (Media.Find(soak.Medium) is null)
        {
            problems.Add(InputProblem.Error("medium", soak.Medium, "Accepted: a medium whose values are known: " + string.Join(", ", Media.All.Select(medium => medium.Name)) + "."));
        }

        Range("medium litres", soak.MediumLitres, 0.02, 20, "0.02 to 20 L");
        Range("water litres", soak.WaterLitres, 0.05 * soak.MediumLitres, 50 * soak.MediumLitres, "a twentieth to fifty times the medium, in L");
        Range("hours", soak.Hours, 1, 24 * 30, "1 to 720 hours");
        Range("temperature", soak.Celsius, 5, 40, "5 to 40 °C");
        if (soak is { EcMicrosiemensPerCm: null, PH: null, AlkalinityMeqPerLitre: null })
        {
            problems.Add(InputProblem.Error("reading", null, "Accepted: at least one of EC, pH and alkalinity at the end; alkalinity and EC say most."));
        }

        Look(ReadingKind.MediumEc, soak.EcMicrosiemensPerCm);
        Look(ReadingKind.MediumPH, soak.PH);
        Look(ReadingKind.MediumAlkalinity, soak.AlkalinityMeqPerLitre);
        return problems;

        void Look(ReadingKind kind, double? value)
        {
            if (value is { } read)
            {
                problems.AddRange(ReadingEntry.Check(kind, read));
            }
        }

        void Range(string field, double value, double low, double high, string accepted)
        {
            if (!(value >= low && value <= high))
            {
                problems.Add(InputProblem.Error(field, Say($"{value:0.###}"), $"Accepted: {accepted}."));
            }
        }
    }

    public async Task<Guid> SoakAsync(NewSoak soak, CancellationToken cancel = default)
    {
        Refuse(CheckSoak(soak));
        var zone = await database.ReadAsync(async db => (await BenchReader.BenchAsync(db, cancel)).Zone, cancel);
        var said = new MediumSoaked(
            soak.Id, Media.Find(soak.Medium)!.Name, soak.MediumLitres, soak.WaterLitres, soak.WaterId, soak.Hours, soak.Celsius, soak.EcMicrosiemensPerCm, soak.PH, soak.AlkalinityMeqPerLitre);
        await facts.WriteAsync([new NewFact { Id = soak.Id, SubjectId = soak.Id, Payload = said, When = soak.On is { } day ? FactWhen.OnDay(day, zone) : null }], cancel: cancel);
        _stopped = false;
        RefreshSoon();
        return soak.Id;
    }

    // What a pen should read now, wide enough that only a wrong unit falls out of it; null where nothing was fitted.
    private Expected? Expected(PotRecord record, ReadingKind kind, DateTime now)
    {
        if (database.Learned is not { } learned || !learned.Records.TryGetValue(record.Pot.Id, out var known) || known.History is not { } history)
        {
            return null;
        }

        var hours = (now - known.Origin).TotalHours;
        return learned.Fit.Forecast(history with { UntilHours = hours }, [new PotReading(hours, kind, kind is ReadingKind.ReservoirEc or ReadingKind.MediumEc ? 500 : 6)]) is [var (_, band)] ? learned.Widening.Widen(kind, band) : null;
    }

    private async Task<PotRecord> RecordAsync(int plantNumber, CancellationToken cancel) =>
        (await InHandAsync(cancel)).Records.FirstOrDefault(record => record.Plant.Number == plantNumber)
        ?? throw new EntryException("plant", Say($"{plantNumber}"), "the number of a plant that stands in a pot");

    private static void Refuse(IReadOnlyList<InputProblem> problems)
    {
        var errors = problems.Where(problem => problem.Severity == Severity.Error).ToList();
        if (errors.Count > 0)
        {
            throw new EntryException([.. errors.Select(problem => new EntryProblem(problem.Field, problem.Value, problem.Message))]);
        }
    }

    private Task<IReadOnlyList<Soak>> SoaksAsync(CancellationToken cancel) => database.ReadAsync<IReadOnlyList<Soak>>(async db =>
    {
        var subjects = db.Facts.Where(fact => fact.Kind == s_soaked).Select(fact => fact.SubjectId);
        var all = await db.Facts.Where(fact => subjects.Contains(fact.SubjectId)).OrderBy(fact => fact.Position).ToListAsync(cancel);
        var waters = (await db.WaterReports.ToListAsync(cancel)).ToLookup(report => report.WaterId);
        return
        [
            .. PlantProjection.Standing(all).Where(fact => fact.Kind == s_soaked).Select(fact =>
            {
                var said = (MediumSoaked)FactKinds.Read(fact.Kind, fact.Version, fact.Payload);
                var day = fact.When.EarliestDay;
                var report = said.WaterId is { } water ? BenchReader.Newest(waters[water].Where(each => each.SampledOn <= day)) ?? BenchReader.Newest(waters[water]) : null;
                return new Soak(fact.Id, said.SoakId, day, said, report?.Source.MolPerKgWater ?? ComponentAmounts.Zero, report?.EcMicrosiemensPerCm, report?.AlkalinityMeqPerLitre);
            }),
        ];
    }, cancel);

    private List<SoakTest> Tests() => [.. _soaks.Where(soak => Media.Find(soak.Said.Medium) is not null).Select(soak => new SoakTest
    {
        Id = soak.SoakId,
        Medium = Media.Find(soak.Said.Medium)!,
        MediumLitres = soak.Said.MediumLitres,
        WaterLitres = soak.Said.WaterLitres,
        WaterMolPerKgWater = soak.Water,
        Hours = soak.Said.Hours,
        Celsius = soak.Said.Celsius,
        EcMicrosiemensPerCm = soak.Said.EcMicrosiemensPerCm,
        PH = soak.Said.PH,
        AlkalinityMeqPerLitre = soak.Said.AlkalinityMeqPerLitre,
    })];

    private async Task<IReadOnlyList<SoakLine>> SoakLinesAsync(CancellationToken cancel) =>
    [
        .. (await SoaksAsync(cancel)).OrderByDescending(soak => soak.On).Select(soak => new SoakLine(
            soak.FactId, soak.On, soak.Said.Medium, soak.Said.MediumLitres, soak.Said.WaterLitres, soak.Said.Hours, soak.Said.EcMicrosiemensPerCm, soak.Said.PH, soak.Said.AlkalinityMeqPerLitre, Gained(soak))),
    ];

    /// <summary>What a litre of medium gave: alkalinity and EC gained, times litres of water per litre of medium.</summary>
    private static string Gained(Soak soak)
    {
        var perLitre = soak.Said.WaterLitres / soak.Said.MediumLitres;
        var gained = new List<string>();
        if (soak.Said.AlkalinityMeqPerLitre is { } alkalinity)
        {
            gained.Add(Say($"{(alkalinity - (soak.AlkalinityBefore ?? 0)) * perLitre:+0.00;-0.00} meq base"));
        }

        if (soak.Said.EcMicrosiemensPerCm is { } ec)
        {
            gained.Add(Say($"{ec - (soak.EcBefore ?? 0):+0;-0} µS/cm in {perLitre:0.#} L"));
        }

        return gained.Count == 0 ? "pH alone says little" : Say($"{string.Join(", ", gained)} from a litre of medium in {soak.Said.Hours:0} h");
    }

    private sealed record Soak(Guid FactId, Guid SoakId, DateOnly On, MediumSoaked Said, ComponentAmounts Water, double? EcBefore, double? AlkalinityBefore);
}
