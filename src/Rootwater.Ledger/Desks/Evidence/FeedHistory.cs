using System.Globalization;
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

    /// <param name="db">Ledger.</param>
    /// <param name="plants">Whose.</param>
    /// <param name="from">First day that is read.</param>
    /// <param name="to">Last day that is read.</param>
    /// <param name="cancel">Stops reading.</param>
    public static async Task<FeedHistory> ReadAsync(LedgerContext db, IReadOnlyCollection<Guid> plants, DateOnly from, DateOnly to, CancellationToken cancel)
    {
        var history = new FeedHistory();
        var all = plants.Count > 400;
        var ids = plants.ToHashSet();
        var cans = (await db.CanContents.ToListAsync(cancel)).ToDictionary(can => can.CanId);
        var feedings = db.Feedings.Where(row => (all || ids.Contains(row.PlantId)) && row.Day >= from && row.Day <= to).OrderBy(row => row.PlantId).ThenBy(row => row.Day)
            .Select(row => new { row.PlantId, row.Day, row.What, row.CanId, row.Millilitres });
        await PlantByPlant.EachAsync(feedings, row => row.PlantId, ids, (plant, rows) =>
            history._pours[plant] = [.. rows.Select(row => new Pour(row.Day, row.What, row.Millilitres, row.CanId is { } id ? cans.GetValueOrDefault(id) : null))], cancel);

        var (first, last) = (Text(from), Text(to.AddDays(to < DateOnly.MaxValue ? 1 : 0)));
        var readings = db.TakenReadings.Where(row => (row.Of == ReadingOf.Reservoir || row.Of == ReadingOf.Runoff) && row.PlantId != null && (all || ids.Contains(row.PlantId.Value))
                && string.Compare(row.At, first) >= 0 && string.Compare(row.At, last) < 0)
            .OrderBy(row => row.PlantId).ThenBy(row => row.At).Select(row => new { PlantId = row.PlantId!.Value, row.At, row.Of, row.EcMicrosiemensPerCm, row.PH });
        var ecs = new Dictionary<Guid, EcRead[]>();
        await PlantByPlant.EachAsync(readings, row => row.PlantId, ids, (plant, rows) =>
        {
            var read = rows.Select(row => (row.Of, Day: DateOnly.ParseExact(row.At.AsSpan(0, 10), "yyyy-MM-dd", CultureInfo.InvariantCulture), row.EcMicrosiemensPerCm, row.PH)).ToList();
            history._readings[plant] = [.. read.Where(row => row.Of == ReadingOf.Reservoir).Select(row => (row.Day, row.EcMicrosiemensPerCm, row.PH))];
            ecs[plant] = [.. read.Where(row => row.EcMicrosiemensPerCm is > 0).Select(row => new EcRead(row.Day, Math.Log(row.EcMicrosiemensPerCm!.Value), row.Of == ReadingOf.Runoff))];
        }, cancel);

        // What a leach or a new pot leaves of the salt, the readings before it do not say.
        var potted = (await db.Pots.Where(pot => all || ids.Contains(pot.PlantId)).Select(pot => new { pot.PlantId, pot.FilledOn }).ToListAsync(cancel)).ToLookup(pot => pot.PlantId, pot => pot.FilledOn);
        history.Root = new RootEc(ecs, ecs.Keys.ToDictionary(plant => plant, plant => potted[plant].Order().Skip(1)
            .Concat(history.Of(plant).Where(pour => pour.What == Pouring.Leach).Select(pour => pour.Day)).Order().ToArray()));
        return history;
    }

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
