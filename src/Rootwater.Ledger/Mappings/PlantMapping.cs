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
        builder.Ignore(row => row.CurrentName);
    }
}
