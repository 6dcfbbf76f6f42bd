using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class ProductMapping : IEntityTypeConfiguration<ProductRow>
{
    public void Configure(EntityTypeBuilder<ProductRow> builder)
    {
        builder.ToTable("products");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.Property(row => row.Product).HasConversion(JsonText.Of<Rootwater.Growing.Cupboard.Product>());
        builder.Property(row => row.MadeOf).HasConversion(JsonText.Of<IReadOnlyList<string>>());
    }
}
