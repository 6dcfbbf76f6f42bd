using Rootwater.Growing.Mixing;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads what decides who gets what on a day, in a handful of queries, and has it judged. The walk, the mixing page and the bench all ask here, so that they agree.</summary>
internal static class RoundReader
{
    /// <summary>How far back pourings and readings are followed: salt older than that has been leached, or read.</summary>
    private const int Days = 60;

    // Water of which nobody said which. Common practice, no source: between rain and hard tap.
    private const double SomeWaterMicrosiemensPerCm = 100;

    /// <summary>All plants that stand in pots, judged, in walking order with quarantine last.</summary>
    /// <param name="db">The bench.</param>
    /// <param name="day">The day of the walk.</param>
    /// <param name="plantId">Only this one when not null.</param>
    /// <param name="cancel">Stops reading.</param>
    public static async Task<WalkPlan> PlanAsync(LedgerContext db, DateOnly day, Guid? plantId, CancellationToken cancel)
    {
        var standing = await BenchReader.StandingAsync(db, cancel, plantId);
        return await PlanAsync(db, standing, await BenchReader.WantsAsync(db, cancel), day, plantId, cancel);
    }

    /// <summary>The same where plants and wants have been read already.</summary>
    public static async Task<WalkPlan> PlanAsync(LedgerContext db, IReadOnlyList<Standing> standing, IReadOnlyList<WantRow> wants, DateOnly day, Guid? plantId, CancellationToken cancel) =>
        RoundPlanner.Plan(
            await PlantsAsync(db, standing, wants.ToDictionary(want => want.Id, want => want.Want), day, plantId, cancel), day,
            RoundOptions.Default with { SouthOfEquator = await BenchLatitude.OfAsync(db, cancel) < 0 });

    /// <summary>Plants as a walk judges them.</summary>
    public static async Task<List<PlantOnRound>> PlantsAsync(LedgerContext db, IReadOnlyList<Standing> standing, DateOnly day, Guid? plantId, CancellationToken cancel) =>
        await PlantsAsync(db, standing, (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want), day, plantId, cancel);

    private static async Task<List<PlantOnRound>> PlantsAsync(LedgerContext db, IReadOnlyList<Standing> standing, Dictionary<Guid, Want> wants, DateOnly day, Guid? plantId, CancellationToken cancel)
    {
        var entries = await EntriesAsync(db, day, plantId, cancel);
        var since = day.AddDays(-Days);
        var skips = (await PlainSql.ReadAsync(
            db, "SELECT plant_id, day, reason, fact_id FROM skips WHERE day >= @since AND day <= @day" + (plantId is null ? "" : " AND plant_id = @plant"),
            [("since", since), ("day", day), .. plantId is { } only ? [("plant", (object)only)] : Array.Empty<(string, object)>()],
            row => new Skipped(row.GetGuid(0), row.Day(1), (SkipReason)row.GetInt32(2), row.GetGuid(3)), cancel))
            .GroupBy(skip => skip.PlantId).ToDictionary(group => group.Key, group => group.MaxBy(skip => (skip.Day, skip.FactId))!);
        var climates = (await AirInHand.OfWeekAsync(db, day, cancel)).ToDictionary(place => place.Key, place => ClimateOf(place.Value));
        return
        [
            .. standing.Select(plant => new PlantOnRound
            {
                PlantId = plant.Plant.Id,
                Number = plant.Plant.Number,
                Kind = plant.Plant.Kind,
                States = plant.Plant.States,
                Pot = plant.Pot.ToPot(),
                Setup = PotModels.TrySetupOf(plant.Pot),
                Climate = plant.Plant.PlaceId is { } place ? climates.GetValueOrDefault(place) ?? new PotClimate() : new PotClimate(),
                Parameters = db.Learned?.ParametersOf(plant.Pot),
                // Of this pot alone; what was poured before it was filled is gone with the old medium.
                Entries = [.. entries[plant.Plant.Id].Where(entry => entry.On >= plant.Pot.FilledOn)],
                PottedOn = plant.Pot.FilledOn,
                PassedBy = skips.TryGetValue(plant.Plant.Id, out var skip) ? new PassedBy(skip.Day, For(skip.Reason)) : null,
                FeedEcMicrosiemensPerCm = plant.Plant.WantId is { } want && wants.TryGetValue(want, out var wanted) ? wanted.EcMicrosiemensPerCm : null,
                Quarantine = plant.Plant.Quarantine is { Ended: null } open ? open : null,
                WalkOrder = plant.WalkOrder,
            }),
        ];
    }

    public static Pouring ToPouring(RoundAct act) => act switch
    {
        RoundAct.PlainWater => Pouring.PlainWater,
        RoundAct.Leach => Pouring.Leach,
        _ => Pouring.Feed,
    };

    private static RoundAct ToAct(Pouring what) => what switch
    {
        Pouring.PlainWater => RoundAct.PlainWater,
        Pouring.Leach => RoundAct.Leach,
        _ => RoundAct.Feed,
    };

    private static PassedByFor For(SkipReason reason) => reason switch
    {
        SkipReason.StillFull => PassedByFor.StillFull,
        SkipReason.Resting => PassedByFor.Resting,
        SkipReason.NotReached => PassedByFor.NotReached,
        _ => PassedByFor.Other,
    };

    private static async Task<ILookup<Guid, PotEntry>> EntriesAsync(LedgerContext db, DateOnly day, Guid? plantId, CancellationToken cancel)
    {
        var since = day.AddDays(-Days);
        var one = plantId is null ? "" : " AND plant_id = @plant";
        List<(string, object)> span = [("since", since), ("day", day)];
        if (plantId is { } only)
        {
            span.Add(("plant", only));
        }

        var feedings = await PlainSql.ReadAsync(
            db, "SELECT plant_id, day, what, can_id, water_id, millilitres FROM feedings WHERE day >= @since AND day <= @day" + one, span,
            row => new Fed(row.GetGuid(0), row.Day(1), (Pouring)row.GetInt32(2), row.GuidOrNull(3), row.GuidOrNull(4), row.GetDouble(5)), cancel);
        var canEc = (await PlainSql.ReadAsync(
            db, "SELECT can_id, ec_microsiemens_per_cm FROM can_contents WHERE can_id IN (SELECT can_id FROM feedings WHERE day >= @since AND day <= @day" + one + ")", span,
            row => new Strength(row.GetGuid(0), row.GetDouble(1), default, 0), cancel)).ToDictionary(can => can.Of, can => can.EcMicrosiemensPerCm);
        var waterEc = (await PlainSql.ReadAsync(
            db, "SELECT water_id, sampled_on, position, ec_microsiemens_per_cm FROM water_reports WHERE ec_microsiemens_per_cm IS NOT NULL", [],
            row => new Strength(row.GetGuid(0), row.GetDouble(3), row.Day(1), row.GetInt64(2)), cancel))
            .GroupBy(report => report.Of).ToDictionary(group => group.Key, group => group.MaxBy(report => (report.Sampled, report.Position))!.EcMicrosiemensPerCm);
        List<(string, object)> minutes =
        [
            ("since", FactWhen.ToStored(since.ToDateTime(TimeOnly.MinValue))), ("day", FactWhen.ToStored(day.ToDateTime(new TimeOnly(23, 59)))),
            ("reservoir", (int)ReadingOf.Reservoir), ("runoff", (int)ReadingOf.Runoff), .. span.Skip(2),
        ];
        var readings = await PlainSql.ReadAsync(
            db,
            "SELECT plant_id, at, \"of\", ec_microsiemens_per_cm, level_share FROM taken_readings WHERE at >= @since AND at <= @day AND plant_id IS NOT NULL"
            + " AND \"of\" IN (@reservoir, @runoff) AND (ec_microsiemens_per_cm IS NOT NULL OR level_share IS NOT NULL)" + one, minutes,
            row => new Seen(row.GetGuid(0), row.GetString(1), (ReadingOf)row.GetInt32(2), row.DoubleOrNull(3), row.DoubleOrNull(4)), cancel);
        var full = await PlainSql.ReadAsync(
            db, "SELECT plant_id, day FROM skips WHERE day >= @since AND day <= @day AND reason = @full" + one, [.. span, ("full", (int)SkipReason.StillFull)],
            row => new Skipped(row.GetGuid(0), row.Day(1), SkipReason.StillFull, default), cancel);
        var poured = feedings.Select(feeding => (feeding.PlantId, Entry: (PotEntry)new PouredIn(
            feeding.Day, ToAct(feeding.What), feeding.Millilitres / 1000,
            feeding.CanId is { } can ? canEc.GetValueOrDefault(can) : feeding.WaterId is { } water && waterEc.TryGetValue(water, out var ec) ? ec : SomeWaterMicrosiemensPerCm)));
        var read = readings.SelectMany(reading =>
        {
            var on = DateOnly.ParseExact(reading.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
            var told = new List<(Guid, PotEntry)>(2);
            if (reading.LevelShare is { } level && reading.Of == ReadingOf.Reservoir)
            {
                told.Add((reading.PlantId, new LevelSeen(on, level)));
            }

            if (reading.EcMicrosiemensPerCm is { } ec)
            {
                told.Add((reading.PlantId, new EcSeen(on, ec, reading.Of == ReadingOf.Runoff)));
            }

            return told;
        });
        return poured.Concat(read).Concat(full.Select(skip => (skip.PlantId, (PotEntry)new SeenFull(skip.Day)))).ToLookup(pair => pair.Item1, pair => pair.Item2);
    }

    private static PotClimate ClimateOf(Air air)
    {
        var usual = new PotClimate();
        return new PotClimate
        {
            AirTemperatureCelsius = Math.Clamp(air.MeanCelsius ?? usual.AirTemperatureCelsius, 5, 40),
            RelativeHumidityPercent = Math.Clamp(air.MeanHumidity * 100 ?? usual.RelativeHumidityPercent, 5, 100),
        };
    }

    // Classes, not tuples: code over classes is shared and compiled ahead, code over structs is compiled anew at every start.
    private sealed record Fed(Guid PlantId, DateOnly Day, Pouring What, Guid? CanId, Guid? WaterId, double Millilitres);

    private sealed record Strength(Guid Of, double EcMicrosiemensPerCm, DateOnly Sampled, long Position);

    private sealed record Seen(Guid PlantId, string At, ReadingOf Of, double? EcMicrosiemensPerCm, double? LevelShare);

    private sealed record Skipped(Guid PlantId, DateOnly Day, SkipReason Reason, Guid FactId);
}
