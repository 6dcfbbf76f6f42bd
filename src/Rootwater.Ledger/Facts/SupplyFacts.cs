namespace Rootwater.Ledger.Facts;

/// <summary>A package was opened: from then on it may draw water. Subject: the lot.</summary>
[FactKind("lot.opened", 1)]
public sealed record LotOpened(Guid LotId, DateOnly On) : FactPayload;

/// <summary>Some of a lot went without feeding anything: spilt, caked, given away. Subject: the lot.</summary>
/// <param name="LotId">The lot.</param>
/// <param name="Grams">Above 0 and no more than was left.</param>
/// <param name="Why">In the grower's words; null where not said.</param>
[FactKind("lot.spilt", 1)]
public sealed record LotSpilt(Guid LotId, double Grams, string? Why) : FactPayload;

/// <summary>How long an order of this product takes. Subject: the product. The latest stands.</summary>
/// <param name="ProductId">The product.</param>
/// <param name="Days">From order to cupboard, 0 to 365.</param>
[FactKind("product.lead", 1)]
public sealed record ProductLead(Guid ProductId, int Days) : FactPayload;

/// <summary>How the cupboard is kept. Subject: the bench. The latest stands.</summary>
/// <param name="UsualLeadDays">From order to cupboard where nothing is said of a product, 0 to 365.</param>
/// <param name="BuyForDays">How long a bought package should last, 7 to 1100 days.</param>
/// <param name="RoomHumidityPercent">Relative humidity where the cupboard stands, 0 to 100 %.</param>
[FactKind("supply.set", 1)]
public sealed record SupplySet(int UsualLeadDays, int BuyForDays, double RoomHumidityPercent) : FactPayload;
