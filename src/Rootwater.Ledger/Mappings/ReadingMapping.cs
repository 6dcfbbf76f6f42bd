using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class ReadingMapping : IEntityTypeConfiguration<ReadingRow>
{
    public void Configure(EntityTypeBuilder<ReadingRow> builder)
    {
        builder.ToTable("readings");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => new { row.CanId, row.Position });
    }
}
