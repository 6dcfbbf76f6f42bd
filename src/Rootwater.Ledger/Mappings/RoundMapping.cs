using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class RoundMapping : IEntityTypeConfiguration<RoundRow>
{
    public void Configure(EntityTypeBuilder<RoundRow> builder)
    {
        builder.ToTable("rounds");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.Position);
    }
}
