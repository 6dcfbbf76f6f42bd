using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class PlantMapping : IEntityTypeConfiguration<PlantRow>
{
    public void Configure(EntityTypeBuilder<PlantRow> builder)
    {
        builder.ToTable("plants");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.Number).IsUnique();
        builder.Property(row => row.States).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Growing.Bench.PlantState>>());
        builder.HasIndex(row => row.ParentPlantId);
        builder.Property(row => row.LeafTrouble).HasConversion(JsonText.Of<IReadOnlyList<string>>());
        builder.Property(row => row.Quarantine).HasConversion(JsonText.Of<Rootwater.Growing.Bench.Quarantine>()!);
        builder.Property(row => row.VirusTests).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Growing.Bench.VirusTest>>());
        builder.Ignore(row => row.CurrentName);
    }
}
