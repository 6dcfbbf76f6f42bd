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
    /// <summary>A reading further off says nothing of a day: pots are read about once a month.</summary>
    private const int NearestDays = 75;
    private readonly Dictionary<Guid, (DateOnly Day, double? Ec, double? PH)[]> _readings = [];

    // Of the reservoir, or of what ran out below.
    private readonly Dictionary<Guid, (DateOnly Day, double Ec)[]> _ecs = [];

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

    /// <summary>Mean EC of the feeds over days up to and with one, µS/cm by volume, plain water left out; null where nothing was fed.</summary>
    public double? FeedEc(Guid plantId, DateOnly to, int days)
    {
        var pours = _pours.GetValueOrDefault(plantId, []);
        var (sum, volume) = (0.0, 0.0);
        for (var i = After(pours, to.AddDays(-days)); i < pours.Length && pours[i].Day <= to; i++)
        {
            if (pours[i].EcMicrosiemensPerCm is { } ec)
            {
                (sum, volume) = (sum + ec * pours[i].Millilitres, volume + pours[i].Millilitres);
            }
        }

        return volume > 0 ? sum / volume : null;
    }

    /// <summary>
    /// EC in a pot on a day by the readings on either side of it (reservoir, or what ran out below), µS/cm: in between on the logarithm, but for a leach or a new pot between them, which ends what was before. Null
    /// where none is within <see cref="NearestDays"/>.
    /// </summary>
    public double? PotEc(Guid plantId, DateOnly day, IReadOnlyList<DateOnly> repotted)
    {
        var readings = _ecs.GetValueOrDefault(plantId, []);
        var next = 0;
        while (next < readings.Length && readings[next].Day <= day)
        {
            next++;
        }

        (DateOnly Day, double Ec)? before = next > 0 && day.DayNumber - readings[next - 1].Day.DayNumber <= NearestDays ? readings[next - 1] : null;
        (DateOnly Day, double Ec)? after = next < readings.Length && readings[next].Day.DayNumber - day.DayNumber <= NearestDays ? readings[next] : null;
        if (before is not { } last || after is not { } coming)
        {
            return before?.Ec ?? after?.Ec;
        }

        var (first, end) = (DateOnly.MaxValue, DateOnly.MinValue);
        void Ends(DateOnly on) => (first, end) = (on < first ? on : first, on > end ? on : end);
        var pours = _pours.GetValueOrDefault(plantId, []);
        for (var i = After(pours, last.Day.AddDays(-1)); i < pours.Length && pours[i].Day < coming.Day; i++)
        {
            if (pours[i].What == Pouring.Leach)
            {
                Ends(pours[i].Day);
            }
        }

        foreach (var potted in repotted.Where(potted => potted > last.Day && potted <= coming.Day))
        {
            Ends(potted);
        }

        if (first == DateOnly.MaxValue)
        {
            return last.Ec * Math.Pow(coming.Ec / last.Ec, (day.DayNumber - last.Day.DayNumber) / (double)(coming.Day.DayNumber - last.Day.DayNumber));
        }

        return day < first ? last.Ec : day >= end ? coming.Ec : Math.Sqrt(last.Ec * coming.Ec);
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
        foreach (var plant in (await readings.ToListAsync(cancel)).Where(row => ids.Contains(row.PlantId)).GroupBy(row => row.PlantId))
        {
            var read = plant.OrderBy(row => row.At, StringComparer.Ordinal)
                .Select(row => (row.Of, Day: DateOnly.ParseExact(row.At.AsSpan(0, 10), "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture), Ec: row.EcMicrosiemensPerCm, row.PH)).ToList();
            history._readings[plant.Key] = [.. read.Where(row => row.Of == ReadingOf.Reservoir).Select(row => (row.Day, row.Ec, row.PH))];
            history._ecs[plant.Key] = [.. read.Where(row => row.Ec is > 0).Select(row => (row.Day, row.Ec!.Value))];
        }

        return history;
    }
}
