using Microsoft.EntityFrameworkCore;
using Rootwater.Growing.Cupboard;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Desks;

/// <summary>The cupboard over the ledger.</summary>
public sealed class CupboardDesk(BenchDatabase database, FactLog log, TimeProvider clock) : ICupboardDesk
{
    private const double MostGrams = 1_000_000;

    public Task<IReadOnlyList<SupplyItem>> ListAsync(CancellationToken cancel = default) =>
        database.ReadAsync<IReadOnlyList<SupplyItem>>(async db => await BenchReader.CupboardAsync(db, cancel), cancel);

    public Task<SupplyItem?> GetAsync(Guid productId, CancellationToken cancel = default) => database.ReadAsync(async db =>
        await db.Products.FirstOrDefaultAsync(product => product.Id == productId, cancel) is { } product
            ? BenchReader.Supply(product, await db.Lots.Where(lot => lot.ProductId == productId).ToListAsync(cancel))
            : null, cancel);

    public ProductPreview Preview(NewProduct entry) => ProductEntries.Read(entry);

    public async Task<SupplyItem> SaveProductAsync(NewProduct entry, CancellationToken cancel = default)
    {
        var read = Preview(entry);
        if (read.Product is not { } product || read.Problems.Count > 0)
        {
            throw new EntryException(read.Problems);
        }

        var payload = new ProductSet(product, entry.Formula ?? entry.Acid?.Formula, read.MadeOf);
        var kept = await database.ReadAsync(db => db.Products.FirstOrDefaultAsync(row => row.Id == product.Id, cancel), cancel);
        // Sent twice, it is said once.
        if (kept is null || FactJson.Write(new ProductSet(kept.Product, kept.Formula, kept.MadeOf)) != FactJson.Write(payload))
        {
            await log.AppendAsync(new NewFact { Id = NewId(), SubjectId = product.Id, Payload = payload }, cancel);
        }

        return (await GetAsync(product.Id, cancel))!;
    }

    public async Task<SupplyItem> AddLotAsync(NewLot lot, CancellationToken cancel = default)
    {
        RefuseGrams("grams", lot.Grams, "more than 0 g, up to 1,000 kg", openLow: true);
        await log.AppendAsync(
            new NewFact
            {
                Id = lot.Id,
                SubjectId = lot.Id,
                Payload = new LotBought(lot.Id, lot.ProductId, lot.Grams, lot.BoughtOn, lot.OpenedOn, lot.BestBefore, lot.Note),
            },
            cancel);
        return (await GetAsync(lot.ProductId, cancel))!;
    }

    public async Task<SupplyItem> CorrectSupplyAsync(Guid lotId, double gramsLeft, string? why = null, Guid? idempotencyKey = null, CancellationToken cancel = default)
    {
        RefuseGrams("grams left", gramsLeft, "0 g to 1,000 kg", openLow: false);
        await log.AppendAsync(new NewFact { Id = idempotencyKey ?? NewId(), SubjectId = lotId, Payload = new LotWeighed(lotId, gramsLeft, why) }, cancel);
        var productId = await database.ReadAsync(db => db.Lots.Where(lot => lot.Id == lotId).Select(lot => lot.ProductId).FirstAsync(cancel), cancel);
        return (await GetAsync(productId, cancel))!;
    }

    private Guid NewId() => Guid.CreateVersion7(clock.GetUtcNow());

    private static void RefuseGrams(string field, double grams, string accepted, bool openLow)
    {
        if (!(grams >= 0 && grams <= MostGrams) || (openLow && grams == 0))
        {
            throw new EntryException(field, grams.ToString(System.Globalization.CultureInfo.InvariantCulture), accepted);
        }
    }
}
