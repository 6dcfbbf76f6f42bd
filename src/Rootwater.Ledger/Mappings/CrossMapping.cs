using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class CrossMapping : IEntityTypeConfiguration<CrossRow>
{
    public void Configure(EntityTypeBuilder<CrossRow> builder)
    {
        builder.ToTable("crosses");
        builder.Property(row => row.Id).ValueGeneratedNever();
    }
}
