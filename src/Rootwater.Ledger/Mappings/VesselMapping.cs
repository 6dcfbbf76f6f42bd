using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class VesselMapping : IEntityTypeConfiguration<VesselRow>
{
    public void Configure(EntityTypeBuilder<VesselRow> builder)
    {
        builder.ToTable("vessels");
        builder.Property(row => row.Id).ValueGeneratedNever();
    }
}
