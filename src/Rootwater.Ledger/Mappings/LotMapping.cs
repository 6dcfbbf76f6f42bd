using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class LotMapping : IEntityTypeConfiguration<LotRow>
{
    public void Configure(EntityTypeBuilder<LotRow> builder)
    {
        builder.ToTable("lots");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.ProductId);
    }
}
