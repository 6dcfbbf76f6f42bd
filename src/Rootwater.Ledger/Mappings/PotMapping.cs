using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class PotMapping : IEntityTypeConfiguration<PotRow>
{
    public void Configure(EntityTypeBuilder<PotRow> builder)
    {
        builder.ToTable("pots");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => new { row.PlantId, row.LeftOn });
    }
}
