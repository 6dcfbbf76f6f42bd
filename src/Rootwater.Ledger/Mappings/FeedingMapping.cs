using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class FeedingMapping : IEntityTypeConfiguration<FeedingRow>
{
    public void Configure(EntityTypeBuilder<FeedingRow> builder)
    {
        builder.ToTable("feedings");
        builder.HasKey(row => new { row.FactId, row.PlantId });
        builder.HasIndex(row => new { row.PlantId, row.Day });
        builder.HasIndex(row => row.Day);
        builder.HasIndex(row => row.CanId);
        builder.HasIndex(row => row.RoundId);
    }
}
