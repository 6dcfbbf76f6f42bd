using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Rounds;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>Reads the cards of all plants in a handful of queries, whatever the size of the bench.</summary>
internal static class PlantCards
{
    // A reservoir at half again what the strongest feed may hold is salting up. Common practice, no source.
    private const double CreepingAt = 1.5;
    private const int ReadingsOfDays = 60;

    public static async Task<List<PlantCard>> ReadAsync(LedgerContext db, BenchQuery query, DateOnly today, CancellationToken cancel, WalkPlan? walk = null)
    {
        var asOf = query.AsOf ?? today;
        var overdue = Overdue(walk ?? await RoundReader.PlanAsync(db, asOf, null, cancel));
        var plants = await db.Plants.ToListAsync(cancel);
        var virus = new VirusWords(plants, asOf);
        var places = (await db.Places.ToListAsync(cancel)).ToDictionary(place => place.Id, ToPlace);
        var pots = (await db.Pots.Where(pot => pot.LeftOn == null).ToListAsync(cancel)).ToLookup(pot => pot.PlantId);
        var creeping = await CreepingAsync(db, plants, asOf, cancel);
        var words = Split(query.Words);
        var told = words.Length == 0 ? [] : await db.PlantLives.Select(life => new { life.PlantId, life.Words }).ToDictionaryAsync(life => life.PlantId, life => life.Words, cancel);
        return
        [
            .. plants.Where(plant => (query.WithLost || plant.LostOn is null)
                    && (query.PlaceId is null || plant.PlaceId == query.PlaceId)
                    && (query.Kind is null || string.Equals(plant.Kind, query.Kind, StringComparison.OrdinalIgnoreCase))
                    && (query.State is not { } state || plant.States.Contains(state)))
                .Select(plant => Card(plant, pots[plant.Id].FirstOrDefault(), plant.PlaceId is { } at ? places.GetValueOrDefault(at) : null, virus, creeping.GetValueOrDefault(plant.Id), overdue))
                .Where(card => (query.Due is not { } due || due == card.DaysOverdue is not null)
                    && (query.Trouble is not { } trouble || trouble == card.Trouble.Count > 0)
                    && (query.InQuarantine is not { } apart || apart == card.Quarantine is not null)
                    && Array.TrueForAll(words, word => Holds(card, told.GetValueOrDefault(card.Id), word)))
                .OrderBy(card => card.Place?.WalkOrder ?? int.MaxValue).ThenBy(card => card.Number),
        ];
    }

    /// <summary>One plant's card, lost or not; null where there is none.</summary>
    public static async Task<PlantCard?> ReadOneAsync(LedgerContext db, Guid plantId, DateOnly asOf, CancellationToken cancel)
    {
        var kin = await KinAsync(db, plantId, cancel);
        if (kin.Find(row => row.Id == plantId) is not { } plant)
        {
            return null;
        }

        var place = plant.PlaceId is { } at ? await db.Places.FirstOrDefaultAsync(row => row.Id == at, cancel) : null;
        var pot = await db.Pots.FirstOrDefaultAsync(row => row.PlantId == plantId && row.LeftOn == null, cancel);
        var creeping = await CreepingAsync(db, [plant], asOf, cancel);
        return Card(plant, pot, place is null ? null : ToPlace(place), new VirusWords(kin, asOf), creeping.GetValueOrDefault(plantId), Overdue(await RoundReader.PlanAsync(db, asOf, plantId, cancel)));
    }

    /// <summary>A plant with all of one flesh: up to the first mother that is known, and down to all that was taken from any of them.</summary>
    internal static async Task<List<PlantRow>> KinAsync(LedgerContext db, Guid plantId, CancellationToken cancel)
    {
        var kin = new Dictionary<Guid, PlantRow>();
        for (Guid? next = plantId; next is { } id && !kin.ContainsKey(id) && await db.Plants.FirstOrDefaultAsync(row => row.Id == id, cancel) is { } row; next = row.ParentPlantId)
        {
            kin[id] = row;
        }

        for (var mothers = kin.Values.SelectMany(row => new[] { row.Id, row.ParentPlantId ?? row.Id }).Distinct().ToList(); mothers.Count > 0;)
        {
            var daughters = (await db.Plants.Where(row => row.ParentPlantId != null && mothers.Contains(row.ParentPlantId.Value)).ToListAsync(cancel)).FindAll(row => kin.TryAdd(row.Id, row));
            mothers = daughters.ConvertAll(row => row.Id);
        }

        return [.. kin.Values];
    }

    private static Dictionary<Guid, int> Overdue(WalkPlan walk) =>
        walk.Stops.Where(stop => stop.Duty.IsDue).ToDictionary(stop => stop.Plant.PlantId, stop => walk.AsOf.DayNumber - stop.Duty.DueSince!.Value.DayNumber);

    public static Place ToPlace(PlaceRow row) => new(row.Id, row.Name, row.WalkOrder, row.Light, row.Warmth);

    private static PlantCard Card(PlantRow plant, PotRow? pot, Place? place, VirusWords virus, string? creeping, Dictionary<Guid, int> overdue) => new()
    {
        Id = plant.Id,
        Number = plant.Number,
        Name = plant.CurrentName,
        NameAsReceived = plant.NameAsReceived,
        Kind = plant.Kind,
        Habit = plant.Habit,
        Place = place,
        Pot = pot?.ToPot(),
        States = plant.States,
        LivingLeaves = plant.LivingLeaves,
        SpikeMillimetres = plant.SpikeMillimetres,
        DaysOverdue = overdue.TryGetValue(plant.Id, out var days) ? days : null,
        LastFed = plant.LastFedOn,
        Trouble = creeping is null ? plant.LeafTrouble : [.. plant.LeafTrouble, creeping],
        Quarantine = plant.Quarantine is { Ended: null } open ? open : null,
        VirusStatus = virus.Of(plant.Id),
        LostOn = plant.LostOn,
        WantId = plant.WantId,
        PhotoId = plant.PhotoId,
    };

    private static async Task<Dictionary<Guid, string>> CreepingAsync(LedgerContext db, List<PlantRow> plants, DateOnly asOf, CancellationToken cancel)
    {
        var since = FactWhen.ToStored(asOf.AddDays(-ReadingsOfDays).ToDateTime(TimeOnly.MinValue));
        var only = plants.Count == 1 ? plants[0].Id : (Guid?)null;
        var readings = await db.TakenReadings.Where(reading => only == null || reading.PlantId == only)
            .Where(reading => string.Compare(reading.At, since) >= 0 && reading.PlantId != null && reading.EcMicrosiemensPerCm != null && reading.Of == ReadingOf.Reservoir)
            .Select(reading => new { reading.PlantId, reading.At, Ec = reading.EcMicrosiemensPerCm!.Value }).ToListAsync(cancel);
        if (readings.Count == 0)
        {
            return [];
        }

        var most = (await db.Wants.ToListAsync(cancel)).ToDictionary(want => want.Id, want => want.Want.EcMicrosiemensPerCm.High);
        var last = readings.GroupBy(reading => reading.PlantId!.Value).ToDictionary(group => group.Key, group => group.MaxBy(reading => reading.At)!.Ec);
        return plants
            .Where(plant => plant.WantId is { } want && most.ContainsKey(want) && last.TryGetValue(plant.Id, out var ec) && ec > CreepingAt * most[want])
            .ToDictionary(plant => plant.Id, plant => FactWords.Say($"EC creeping: reservoir at {last[plant.Id] / 1000:0.0} mS/cm, feed wants at most {most[plant.WantId!.Value] / 1000:0.0} mS/cm"));
    }

    private static string[] Split(string? words) => (words ?? "").ToLowerInvariant().Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static bool Holds(PlantCard card, string? told, string word) =>
        FactWords.Say($"{card.Number}") == word.TrimStart('#')
        || told?.Contains(word, StringComparison.Ordinal) == true
        || card.Place?.Name.Contains(word, StringComparison.OrdinalIgnoreCase) == true
        || card.States.Any(state => FactWords.Of(state).Contains(word, StringComparison.Ordinal));
}
