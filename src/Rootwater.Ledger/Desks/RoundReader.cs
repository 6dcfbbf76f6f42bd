using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Pots;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;

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
        return RoundPlanner.Plan(await PlantsAsync(db, standing, day, plantId, cancel), day, RoundOptions.Default with { SouthOfEquator = await BenchLatitude.OfAsync(db, cancel) < 0 });
    }

    public static async Task<List<PlantOnRound>> PlantsAsync(LedgerContext db, IReadOnlyList<Standing> standing, DateOnly day, Guid? plantId, CancellationToken cancel)
    {
        var wants = (await BenchReader.WantsAsync(db, cancel)).ToDictionary(want => want.Id, want => want.Want);
        var entries = await EntriesAsync(db, day, plantId, cancel);
        var since = day.AddDays(-Days);
        var skips = (await db.Skips.Where(skip => skip.Day >= since && skip.Day <= day && (plantId == null || skip.PlantId == plantId))
            .Select(skip => new { skip.PlantId, skip.Day, skip.Reason, skip.FactId }).ToListAsync(cancel))
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
        var feedings = await db.Feedings.Where(feeding => feeding.Day >= since && feeding.Day <= day && (plantId == null || feeding.PlantId == plantId))
            .Select(feeding => new { feeding.PlantId, feeding.Day, feeding.What, feeding.CanId, feeding.WaterId, feeding.Millilitres }).ToListAsync(cancel);
        var canIds = feedings.Where(feeding => feeding.CanId is not null).Select(feeding => feeding.CanId!.Value).Distinct().ToList();
        var canEc = await db.CanContents.Where(can => canIds.Contains(can.CanId)).ToDictionaryAsync(can => can.CanId, can => can.EcMicrosiemensPerCm, cancel);
        var waterEc = (await db.WaterReports.Where(report => report.EcMicrosiemensPerCm != null).Select(report => new { report.WaterId, report.SampledOn, report.Position, report.EcMicrosiemensPerCm }).ToListAsync(cancel))
            .GroupBy(report => report.WaterId).ToDictionary(group => group.Key, group => group.MaxBy(report => (report.SampledOn, report.Position))!.EcMicrosiemensPerCm!.Value);
        var from = FactWhen.ToStored(since.ToDateTime(TimeOnly.MinValue));
        var to = FactWhen.ToStored(day.ToDateTime(new TimeOnly(23, 59)));
        var readings = await db.TakenReadings
            .Where(reading => string.Compare(reading.At, from) >= 0 && string.Compare(reading.At, to) <= 0 && reading.PlantId != null && (plantId == null || reading.PlantId == plantId)
                && (reading.Of == ReadingOf.Reservoir || reading.Of == ReadingOf.Runoff) && (reading.EcMicrosiemensPerCm != null || reading.LevelShare != null))
            .Select(reading => new { PlantId = reading.PlantId!.Value, reading.At, reading.Of, reading.EcMicrosiemensPerCm, reading.LevelShare }).ToListAsync(cancel);
        var full = await db.Skips.Where(skip => skip.Day >= since && skip.Day <= day && skip.Reason == SkipReason.StillFull && (plantId == null || skip.PlantId == plantId))
            .Select(skip => new { skip.PlantId, skip.Day }).ToListAsync(cancel);
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
}
