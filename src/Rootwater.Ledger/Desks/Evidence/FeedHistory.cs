using Microsoft.EntityFrameworkCore;
using Rootwater.Growing;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Desks;

/// <summary>One pouring with what it held. A leach runs out again and counts with nothing; nutrients of plain water are not counted.</summary>
/// <param name="Day">Day.</param>
/// <param name="What">Feed, water, leach.</param>
/// <param name="Millilitres">Amount.</param>
/// <param name="Can">What it came from; null for water and a leach. One for all that was poured of it: a large bench has a quarter of a million pourings.</param>
internal readonly record struct Pour(DateOnly Day, Pouring What, double Millilitres, CanContentRow? Can)
{
    public NutrientAmounts? MgPerLitre => Can?.MgPerLitre;

    public double? EcMicrosiemensPerCm => Can?.EcMicrosiemensPerCm;
}

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
        var poured = ids.ToDictionary(plant => plant, _ => new List<Pour>());
        await foreach (var row in feedings.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (poured.TryGetValue(row.PlantId, out var pours))
            {
                pours.Add(new Pour(row.Day, row.What, row.Millilitres, row.CanId is { } id ? cans.GetValueOrDefault(id) : null));
            }
        }

        foreach (var (plant, pours) in poured.Where(plant => plant.Value.Count > 0))
        {
            history._pours[plant] = [.. pours.OrderBy(pour => pour.Day)];
            GiveBack(pours);
        }

        var readings = db.TakenReadings.Where(row => (row.Of == ReadingOf.Reservoir || row.Of == ReadingOf.Runoff) && row.PlantId != null && (all || ids.Contains(row.PlantId.Value)))
            .Select(row => new { PlantId = row.PlantId!.Value, row.At, row.Of, row.EcMicrosiemensPerCm, row.PH });
        var taken = ids.ToDictionary(plant => plant, _ => new List<(string At, ReadingOf Of, double? Ec, double? PH)>());
        await foreach (var row in readings.AsAsyncEnumerable().WithCancellation(cancel))
        {
            if (taken.TryGetValue(row.PlantId, out var of))
            {
                of.Add((row.At, row.Of, row.EcMicrosiemensPerCm, row.PH));
            }
        }

        var ecs = new Dictionary<Guid, EcRead[]>();
        foreach (var (plant, of) in taken.Where(plant => plant.Value.Count > 0))
        {
            var read = of.OrderBy(row => row.At, StringComparer.Ordinal)
                .Select(row => (row.Of, Day: DateOnly.ParseExact(row.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), row.Ec, row.PH)).ToList();
            history._readings[plant] = [.. read.Where(row => row.Of == ReadingOf.Reservoir).Select(row => (row.Day, row.Ec, row.PH))];
            ecs[plant] = [.. read.Where(row => row.Ec is > 0).Select(row => new EcRead(row.Day, Math.Log(row.Ec!.Value), row.Of == ReadingOf.Runoff))];
            GiveBack(of);
        }

        // What a leach or a new pot leaves of the salt, the readings before it do not say.
        var potted = (await db.Pots.Where(pot => all || ids.Contains(pot.PlantId)).Select(pot => new { pot.PlantId, pot.FilledOn }).ToListAsync(cancel)).ToLookup(pot => pot.PlantId, pot => pot.FilledOn);
        history.Root = new RootEc(ecs, ecs.Keys.ToDictionary(plant => plant, plant => potted[plant].Order().Skip(1)
            .Concat(history.Of(plant).Where(pour => pour.What == Pouring.Leach).Select(pour => pour.Day)).Order().ToArray()));
        return history;
    }

    // Plant by plant: of a large bench the lists together are as large as what is kept of them.
    private static void GiveBack<T>(List<T> rows)
    {
        rows.Clear();
        rows.TrimExcess();
    }
}
