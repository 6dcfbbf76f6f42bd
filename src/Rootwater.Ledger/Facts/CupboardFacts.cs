using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Facts;

/// <summary>A product: as entered, and as it was understood on the day.</summary>
[FactKind("product.set", 1)]
public sealed record ProductSet(Product Product, string? Formula, IReadOnlyList<string> MadeOf) : FactPayload;

/// <summary>A package was bought.</summary>
[FactKind("lot.bought", 1)]
public sealed record LotBought(Guid LotId, Guid ProductId, double Grams, DateOnly? BoughtOn, DateOnly? OpenedOn, DateOnly? BestBefore, string? Note) : FactPayload;

/// <summary>What is left of a lot, from looking or weighing.</summary>
[FactKind("lot.weighed", 1)]
public sealed record LotWeighed(Guid LotId, double GramsLeft, string? Why) : FactPayload;
