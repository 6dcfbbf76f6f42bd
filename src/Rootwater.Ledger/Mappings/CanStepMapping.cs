using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class CanStepMapping : IEntityTypeConfiguration<CanStepRow>
{
    public void Configure(EntityTypeBuilder<CanStepRow> builder)
    {
        builder.ToTable("can_steps");
        builder.HasKey(row => new { row.CanId, row.Number });
    }
}
