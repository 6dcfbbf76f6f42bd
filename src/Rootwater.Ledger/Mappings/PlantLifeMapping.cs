using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class PlantLifeMapping : IEntityTypeConfiguration<PlantLifeRow>
{
    public void Configure(EntityTypeBuilder<PlantLifeRow> builder)
    {
        builder.ToTable("plant_lives");
        builder.HasKey(row => row.PlantId);
        builder.Property(row => row.PlantId).ValueGeneratedNever();
    }
}
