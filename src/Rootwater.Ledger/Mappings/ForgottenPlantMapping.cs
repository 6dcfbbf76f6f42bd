using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class ForgottenPlantMapping : IEntityTypeConfiguration<ForgottenPlantRow>
{
    public void Configure(EntityTypeBuilder<ForgottenPlantRow> builder)
    {
        builder.ToTable("forgotten_plants");
        builder.HasKey(row => row.PlantId);
        builder.Property(row => row.PlantId).ValueGeneratedNever();
    }
}
