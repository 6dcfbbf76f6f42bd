using Microsoft.EntityFrameworkCore;
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
            case LotOpened opened:
                (await Projector.RequiredAsync<LotRow>(db, "lot", cancel, opened.LotId)).OpenedOn = opened.On;
                break;
            case LotSpilt spilt:
                var poorer = await Projector.RequiredAsync<LotRow>(db, "lot", cancel, spilt.LotId);
                poorer.GramsLeft = Math.Max(0, poorer.GramsLeft - spilt.Grams);
                break;
        }
    }

    /// <summary>It did not happen after all. What was weighed since knows of it already.</summary>
    public static async Task TakeBackAsync(LedgerContext db, Fact wrong, FactPayload payload, CancellationToken cancel)
    {
        switch (payload)
        {
            case LotOpened opened:
                var closed = await Projector.RequiredAsync<LotRow>(db, "lot", cancel, opened.LotId);
                // As it was when bought; an earlier opening is told again by whoever takes this one back.
                var kind = FactKinds.NameOf<LotBought>();
                var bought = await db.Facts.AsNoTracking().FirstOrDefaultAsync(fact => fact.SubjectId == opened.LotId && fact.Kind == kind, cancel);
                closed.OpenedOn = bought is null ? null : ((LotBought)FactKinds.Read(bought.Kind, bought.Version, bought.Payload)).OpenedOn;
                break;
            case LotSpilt spilt:
                var lot = await Projector.RequiredAsync<LotRow>(db, "lot", cancel, spilt.LotId);
                lot.GramsLeft += wrong.Position > lot.WeighedAt ? spilt.Grams : 0;
                break;
        }
    }
}
