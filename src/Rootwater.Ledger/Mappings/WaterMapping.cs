using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class WaterMapping : IEntityTypeConfiguration<WaterRow>
{
    public void Configure(EntityTypeBuilder<WaterRow> builder)
    {
        builder.ToTable("waters");
        builder.Property(row => row.Id).ValueGeneratedNever();
    }
}
