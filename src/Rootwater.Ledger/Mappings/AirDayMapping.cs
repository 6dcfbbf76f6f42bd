using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class AirDayMapping : IEntityTypeConfiguration<AirDayRow>
{
    public void Configure(EntityTypeBuilder<AirDayRow> builder)
    {
        builder.ToTable("air_days");
        builder.HasKey(row => row.FactId);
        builder.Property(row => row.FactId).ValueGeneratedNever();
        builder.HasIndex(row => new { row.PlaceId, row.Day });
        builder.HasIndex(row => row.Day);
        builder.Property(row => row.Samples).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Ledger.Facts.AirSample>>());
    }
}
