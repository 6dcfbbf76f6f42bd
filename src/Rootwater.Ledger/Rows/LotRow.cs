using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Rows;

/// <summary>A bought package and what is left of it.</summary>
public sealed class LotRow
{
    public Guid Id { get; set; }
    public Guid ProductId { get; set; }
    public double Grams { get; set; }
    public double GramsLeft { get; set; }

    /// <summary>Place in the ledger of the fact that last weighed it; what was taken before then is not given back.</summary>
    public long WeighedAt { get; set; }
    public DateOnly? BoughtOn { get; set; }
    public DateOnly? OpenedOn { get; set; }
    public DateOnly? BestBefore { get; set; }
    public string? Note { get; set; }

    public Lot ToLot() => new()
    {
        Id = Id,
        ProductId = ProductId,
        GramsLeft = GramsLeft,
        BoughtOn = BoughtOn,
        OpenedOn = OpenedOn,
        BestBefore = BestBefore,
        Note = Note,
    };
}
