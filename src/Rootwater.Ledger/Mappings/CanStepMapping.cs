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
        builder.Property(row => row.Uses).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Ledger.Facts.StepUse>>());
        builder.Property(row => row.Taken).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Ledger.Facts.StepUse>>());
    }
}
