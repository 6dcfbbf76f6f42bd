using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class CanMapping : IEntityTypeConfiguration<CanRow>
{
    public void Configure(EntityTypeBuilder<CanRow> builder)
    {
        builder.ToTable("cans");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => row.Position);
        builder.HasIndex(row => row.PouredOn);
        builder.Property(row => row.Card).HasConversion(JsonText.Of<Rootwater.Growing.Mixing.CanPlan>());
        builder.Ignore(row => row.State);
    }
}
