using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Projections;

/// <summary>Products, lots and what is left of them.</summary>
internal static class CupboardProjection
{
    public static async Task ApplyAsync(LedgerContext db, Fact fact, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case ProductSet set:
                var product = await db.Products.FindAsync([set.Product.Id], cancel);
                if (product is null)
                {
                    db.Products.Add(product = new ProductRow { Id = set.Product.Id, Name = set.Product.Name, Product = set.Product, MadeOf = set.MadeOf });
                }

                (product.Name, product.Product, product.Formula, product.MadeOf) = (set.Product.Name, set.Product, set.Formula, set.MadeOf);
                break;
            case LotBought bought:
                await Projector.RequiredAsync<ProductRow>(db, "product", cancel, bought.ProductId);
                db.Lots.Add(new LotRow
                {
                    Id = bought.LotId,
                    ProductId = bought.ProductId,
                    Grams = bought.Grams,
                    GramsLeft = bought.Grams,
                    WeighedAt = fact.Position,
                    BoughtOn = bought.BoughtOn,
                    OpenedOn = bought.OpenedOn,
                    BestBefore = bought.BestBefore,
                    Note = bought.Note,
                });
                break;
            case LotWeighed weighed:
                var lot = await Projector.RequiredAsync<LotRow>(db, "lot", cancel, weighed.LotId);
                (lot.GramsLeft, lot.WeighedAt) = (weighed.GramsLeft, fact.Position);
                break;
        }
    }
}
