using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Desks;

/// <summary>Which products were in the feeds that plants were poured.</summary>
internal sealed class PouredProducts
{
    private static readonly HashSet<string> s_nothing = [];

    // What a can held is one set for all that was poured of it.
    private readonly Dictionary<Guid, (DateOnly Day, HashSet<string> Held)[]> _feeds = [];

    public IReadOnlyList<string> Names { get; private set; } = [];

    /// <summary>Share of the feeds over so many days up to one that held a product, 0 to 1; null where nothing was fed.</summary>
    public double? Share(Guid plantId, string product, DateOnly to, int days)
    {
        var (fed, held) = (0, 0);
        foreach (var (day, products) in _feeds.GetValueOrDefault(plantId, []))
        {
            if (day <= to && day > to.AddDays(-days))
            {
                fed++;
                held += products.Contains(product) ? 1 : 0;
            }
        }

        return fed == 0 ? null : held / (double)fed;
    }

    public static async Task<PouredProducts> ReadAsync(LedgerContext db, IReadOnlyCollection<Guid> plants, CancellationToken cancel)
    {
        var poured = new PouredProducts();
        var (all, ids) = (plants.Count > 400, plants.ToHashSet());
        var products = (await db.Products.Select(product => new { product.Id, product.Name }).ToListAsync(cancel)).ToDictionary(product => product.Id, product => product.Name);
        var lots = (await db.Lots.Select(lot => new { lot.Id, lot.ProductId }).ToListAsync(cancel)).ToDictionary(lot => lot.Id, lot => products.GetValueOrDefault(lot.ProductId));
        var cans = new Dictionary<Guid, HashSet<string>>();
        await foreach (var step in db.CanSteps.AsNoTracking().Select(step => new { step.CanId, step.Uses }).AsAsyncEnumerable().WithCancellation(cancel))
        {
            foreach (var use in step.Uses)
            {
                if (lots.GetValueOrDefault(use.LotId) is { } name)
                {
                    if (!cans.TryGetValue(step.CanId, out var held))
                    {
                        cans[step.CanId] = held = [];
                    }

                    held.Add(name);
                }
            }
        }

        var feedings = db.Feedings.Where(row => row.CanId != null && (all || ids.Contains(row.PlantId))).OrderBy(row => row.PlantId).ThenBy(row => row.Day)
            .Select(row => new { row.PlantId, row.Day, CanId = row.CanId!.Value });
        await PlantByPlant.EachAsync(feedings, row => row.PlantId, ids, (plant, rows) => poured._feeds[plant] = [.. rows.Select(row => (row.Day, cans.GetValueOrDefault(row.CanId, s_nothing)))], cancel);
        poured.Names = [.. cans.Values.SelectMany(held => held).Distinct().Order(StringComparer.Ordinal)];
        return poured;
    }
}
