using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Desks;

/// <summary>Which products were in the feeds that plants were poured.</summary>
internal sealed class PouredProducts
{
    private readonly Dictionary<Guid, (DateOnly Day, Guid CanId)[]> _feeds = [];
    private readonly Dictionary<Guid, HashSet<string>> _in = [];

    public IReadOnlyList<string> Names { get; private set; } = [];

    /// <summary>Share of the feeds over so many days up to one that held a product, 0 to 1; null where nothing was fed.</summary>
    public double? Share(Guid plantId, string product, DateOnly to, int days)
    {
        var (fed, held) = (0, 0);
        foreach (var (day, can) in _feeds.GetValueOrDefault(plantId, []))
        {
            if (day <= to && day > to.AddDays(-days))
            {
                fed++;
                held += _in.TryGetValue(can, out var products) && products.Contains(product) ? 1 : 0;
            }
        }

        return fed == 0 ? null : held / (double)fed;
    }

    public static async Task<PouredProducts> ReadAsync(LedgerContext db, IReadOnlyCollection<Guid> plants, CancellationToken cancel)
    {
        var poured = new PouredProducts();
        var (all, ids) = (plants.Count > 400, plants.ToHashSet());
        var feedings = await db.Feedings.Where(row => row.CanId != null && (all || ids.Contains(row.PlantId))).Select(row => new { row.PlantId, row.Day, CanId = row.CanId!.Value }).ToListAsync(cancel);
        foreach (var plant in feedings.Where(row => ids.Contains(row.PlantId)).GroupBy(row => row.PlantId))
        {
            poured._feeds[plant.Key] = [.. plant.Select(row => (row.Day, row.CanId)).OrderBy(row => row.Day)];
        }

        var products = (await db.Products.Select(product => new { product.Id, product.Name }).ToListAsync(cancel)).ToDictionary(product => product.Id, product => product.Name);
        var lots = (await db.Lots.Select(lot => new { lot.Id, lot.ProductId }).ToListAsync(cancel)).ToDictionary(lot => lot.Id, lot => products.GetValueOrDefault(lot.ProductId));
        foreach (var step in await db.CanSteps.AsNoTracking().Select(step => new { step.CanId, step.Uses }).ToListAsync(cancel))
        {
            foreach (var use in step.Uses)
            {
                if (lots.GetValueOrDefault(use.LotId) is { } name)
                {
                    if (!poured._in.TryGetValue(step.CanId, out var held))
                    {
                        poured._in[step.CanId] = held = [];
                    }

                    held.Add(name);
                }
            }
        }

        poured.Names = [.. poured._in.Values.SelectMany(held => held).Distinct().Order(StringComparer.Ordinal)];
        return poured;
    }
}
