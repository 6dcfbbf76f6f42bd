using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class WantMapping : IEntityTypeConfiguration<WantRow>
{
    public void Configure(EntityTypeBuilder<WantRow> builder)
    {
        builder.ToTable("wants");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.Property(row => row.Want).HasConversion(JsonText.Of<Rootwater.Growing.Mixing.Want>());
    }
}
