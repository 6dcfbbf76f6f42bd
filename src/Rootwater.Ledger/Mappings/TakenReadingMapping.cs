using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class TakenReadingMapping : IEntityTypeConfiguration<TakenReadingRow>
{
    public void Configure(EntityTypeBuilder<TakenReadingRow> builder)
    {
        builder.ToTable("taken_readings");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.FactId);
        builder.HasIndex(row => new { row.PlantId, row.At });
        builder.HasIndex(row => new { row.PlaceId, row.At });
        builder.HasIndex(row => row.At);
        builder.Ignore(row => row.AtLocal);
    }
}
