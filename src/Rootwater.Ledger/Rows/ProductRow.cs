using Rootwater.Growing.Cupboard;

namespace Rootwater.Ledger.Rows;

/// <summary>A product in the cupboard.</summary>
public sealed class ProductRow
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    public required Product Product { get; set; }
    public string? Formula { get; set; }
    public required IReadOnlyList<string> MadeOf { get; set; }
}
