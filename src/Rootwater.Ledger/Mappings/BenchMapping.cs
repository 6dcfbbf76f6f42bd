using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class BenchMapping : IEntityTypeConfiguration<BenchRow>
{
    public void Configure(EntityTypeBuilder<BenchRow> builder)
    {
        builder.ToTable("bench");
        builder.Property(bench => bench.Id).ValueGeneratedNever();
        builder.Property(bench => bench.Units).HasConversion(JsonText.Of<Rootwater.Growing.ReadersUnits>());
        builder.Property(bench => bench.Tools).HasConversion(JsonText.Of<Rootwater.Growing.Mixing.Tools>());
    }
}
