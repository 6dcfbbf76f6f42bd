using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>One pouring with what it held. A leach runs out again and counts with nothing; nutrients of plain water are not counted.</summary>
/// <param name="Day">Day.</param>
/// <param name="What">Feed, water, leach.</param>
/// <param name="Millilitres">Amount.</param>
/// <param name="MgPerLitre">Null for water and a leach.</param>
/// <param name="EcMicrosiemensPerCm">Of a feed.</param>
internal readonly record struct Pour(DateOnly Day, Pouring What, double Millilitres, NutrientAmounts? MgPerLitre, double? EcMicrosiemensPerCm);

/// <summary>What plants were poured and what their reservoirs read, each in order of days.</summary>
internal sealed class FeedHistory
{
    private readonly Dictionary<Guid, Pour[]> _pours = [];
    private readonly Dictionary<Guid, (DateOnly Day, double? Ec, double? PH)[]> _readings = [];

    /// <summary>EC in the medium of their pots.</summary>
    public RootEc Root { get; private set; } = new(new Dictionary<Guid, EcRead[]>(), []);

    public IReadOnlyList<Pour> Of(Guid plantId) => _pours.GetValueOrDefault(plantId, []);

    public IReadOnlyList<(DateOnly Day, double? Ec, double? PH)> ReadingsOf(Guid plantId) => _readings.GetValueOrDefault(plantId, []);

    /// <summary>Mean concentration of what was poured over days up to and with one, mg/L by volume; null where nothing was poured.</summary>
    public double? Mean(Guid plantId, Func<NutrientAmounts, double> of, DateOnly to, int days)
    {
        var pours = _pours.GetValueOrDefault(plantId, []);
        var from = to.AddDays(-days);
        var (amount, volume) = (0.0, 0.0);
        for (var i = After(pours, from); i < pours.Length && pours[i].Day <= to; i++)
        {
            if (pours[i].What != Pouring.Leach)
            {
                volume += pours[i].Millilitres;
                amount += pours[i].Millilitres * (pours[i].MgPerLitre is { } mg ? of(mg) : 0);
            }
        }

        return volume > 0 ? amount / volume : null;
    }

    private static int After(Pour[] pours, DateOnly day)
    {
        int low = 0, high = pours.Length;
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = pours[middle].Day <= day ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    public static async Task<FeedHistory> ReadAsync(LedgerContext db, IReadOnlyCollection<Guid> plants, CancellationToken cancel)
    {
        var history = new FeedHistory();
        var all = plants.Count > 400;
        var ids = plants.ToHashSet();
        var cans = (await db.CanContents.ToListAsync(cancel)).ToDictionary(can => can.CanId);
        var feedings = db.Feedings.Where(row => all || ids.Contains(row.PlantId)).Select(row => new { row.PlantId, row.Day, row.What, row.CanId, row.Millilitres });
        foreach (var plant in (await feedings.ToListAsync(cancel)).Where(row => ids.Contains(row.PlantId)).GroupBy(row => row.PlantId))
        {
            history._pours[plant.Key] =
            [
                .. plant.OrderBy(row => row.Day).Select(row => row.CanId is { } id && cans.TryGetValue(id, out var can)
                    ? new Pour(row.Day, row.What, row.Millilitres, can.MgPerLitre, can.EcMicrosiemensPerCm)
                    : new Pour(row.Day, row.What, row.Millilitres, null, null)),
            ];
        }

        var readings = db.TakenReadings.Where(row => (row.Of == ReadingOf.Reservoir || row.Of == ReadingOf.Runoff) && row.PlantId != null && (all || ids.Contains(row.PlantId.Value)))
            .Select(row => new { PlantId = row.PlantId!.Value, row.At, row.Of, row.EcMicrosiemensPerCm, row.PH });
        var ecs = new Dictionary<Guid, EcRead[]>();
        foreach (var plant in (await readings.ToListAsync(cancel)).Where(row => ids.Contains(row.PlantId)).GroupBy(row => row.PlantId))
        {
            var read = plant.OrderBy(row => row.At, StringComparer.Ordinal)
                .Select(row => (row.Of, Day: DateOnly.ParseExact(row.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), Ec: row.EcMicrosiemensPerCm, row.PH)).ToList();
            history._readings[plant.Key] = [.. read.Where(row => row.Of == ReadingOf.Reservoir).Select(row => (row.Day, row.Ec, row.PH))];
            ecs[plant.Key] = [.. read.Where(row => row.Ec is > 0).Select(row => new EcRead(row.Day, Math.Log(row.Ec!.Value), row.Of == ReadingOf.Runoff))];
        }

        // What a leach or a new pot leaves of the salt, the readings before it do not say.
        var potted = (await db.Pots.Where(pot => all || ids.Contains(pot.PlantId)).Select(pot => new { pot.PlantId, pot.FilledOn }).ToListAsync(cancel)).ToLookup(pot => pot.PlantId, pot => pot.FilledOn);
        history.Root = new RootEc(ecs, ecs.Keys.ToDictionary(plant => plant, plant => potted[plant].Order().Skip(1)
            .Concat(history.Of(plant).Where(pour => pour.What == Pouring.Leach).Select(pour => pour.Day)).Order().ToArray()));
        return history;
    }
}
