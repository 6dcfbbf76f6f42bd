using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class CanContentMapping : IEntityTypeConfiguration<CanContentRow>
{
    public void Configure(EntityTypeBuilder<CanContentRow> builder)
    {
        builder.ToTable("can_contents");
        builder.HasKey(row => row.CanId);
        builder.Property(row => row.CanId).ValueGeneratedNever();
        builder.Property(row => row.MgPerLitre).HasConversion(JsonText.Of<Rootwater.Growing.NutrientAmounts>());
    }
}
