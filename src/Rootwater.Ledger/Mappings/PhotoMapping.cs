using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class PhotoMapping : IEntityTypeConfiguration<PhotoRow>
{
    public void Configure(EntityTypeBuilder<PhotoRow> builder)
    {
        builder.ToTable("photos");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.FactId);
        builder.HasIndex(row => new { row.PlantId, row.TakenAt });
        builder.HasIndex(row => row.Sha256);
    }
}
