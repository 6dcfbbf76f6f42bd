using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class SkipMapping : IEntityTypeConfiguration<SkipRow>
{
    public void Configure(EntityTypeBuilder<SkipRow> builder)
    {
        builder.ToTable("skips");
        builder.HasKey(row => row.FactId);
        builder.Property(row => row.FactId).ValueGeneratedNever();
        builder.HasIndex(row => new { row.PlantId, row.Day });
        builder.HasIndex(row => row.Day);
        builder.HasIndex(row => row.RoundId);
    }
}
