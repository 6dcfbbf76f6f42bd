using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Desks;

/// <summary>What is kept for feeding: products, their lots, the supply left.</summary>
public interface ICupboardDesk
{
    /// <summary>All products with their lots, by name.</summary>
    Task<IReadOnlyList<SupplyItem>> ListAsync(CancellationToken cancel = default);

    /// <summary>One product; null when there is none of that id.</summary>
    Task<SupplyItem?> GetAsync(Guid productId, CancellationToken cancel = default);

    /// <summary>Reads an entry without keeping it: what the label says, what it is taken to be made of, what looks wrong.</summary>
    ProductPreview Preview(NewProduct entry);

    /// <summary>Adds a product, or edits the one of the same id.</summary>
    Task<SupplyItem> SaveProductAsync(NewProduct entry, CancellationToken cancel = default);

    /// <summary>Adds a bought package.</summary>
    Task<SupplyItem> AddLotAsync(NewLot lot, CancellationToken cancel = default);

    /// <summary>Sets what is left of a lot, from looking or weighing.</summary>
    Task<SupplyItem> CorrectSupplyAsync(Guid lotId, double gramsLeft, string? why = null, Guid? idempotencyKey = null, CancellationToken cancel = default);
}

/// <summary>A product as entered. Exactly one of <see cref="LabelText"/>, <see cref="Formula"/> and <see cref="Acid"/> says what it is.</summary>
public sealed record NewProduct
{
    /// <summary>The idempotency key, and the product's id.</summary>
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required string Name { get; init; }

    /// <summary>What it is for; found from what is in it when null.</summary>
    public ProductKind? Kind { get; init; }

    /// <summary>The label, typed or pasted.</summary>
    public string? LabelText { get; init; }

    /// <summary>A salt by formula: "MgSO4·7H2O".</summary>
    public string? Formula { get; init; }

    /// <summary>Percent by weight of the salt in the product, for <see cref="Formula"/>: 100 for the pure solid.</summary>
    public double PurityPercent { get; init; } = 100;

    /// <summary>An acid or base in water, by formula and strength.</summary>
    public AcidStrength? Acid { get; init; }

    /// <summary>Kilograms per litre of a liquid; null for a solid.</summary>
    public double? DensityKgPerLitre { get; init; }
    public decimal? PricePerKg { get; init; }

    /// <summary>How far what is in it may be off its label, ± percent, where the grower knows it; else what the label's text says. Above 0 to 30; of labels only.</summary>
    public double? TolerancePercent { get; init; }
}

/// <summary>"Phosphoric acid 24 %" is ("H3PO4", 24).</summary>
/// <param name="Formula">H3PO4, C6H8O7, KOH …</param>
/// <param name="PercentByWeight">Above 0 to 100.</param>
public sealed record AcidStrength(string Formula, double PercentByWeight);

/// <summary>What an entry would become.</summary>
public sealed record ProductPreview
{
    /// <summary>Null when it cannot be read; <see cref="Problems"/> says why.</summary>
    public required Product? Product { get; init; }

    /// <summary>What it is taken to be made of, with shares, in words ("calcium nitrate 62 %"); empty for a pure salt.</summary>
    public required IReadOnlyList<string> MadeOf { get; init; }

    /// <summary>What stops it.</summary>
    public required IReadOnlyList<EntryProblem> Problems { get; init; }

    /// <summary>What is odd but can be kept.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}

/// <summary>A bought package.</summary>
public sealed record NewLot
{
    public Guid Id { get; init; } = Guid.CreateVersion7();
    public required Guid ProductId { get; init; }

    /// <summary>Grams in the package (liquids: millilitres times density).</summary>
    public required double Grams { get; init; }
    public DateOnly? BoughtOn { get; init; }
    public DateOnly? OpenedOn { get; init; }
    public DateOnly? BestBefore { get; init; }
    public string? Note { get; init; }
}
