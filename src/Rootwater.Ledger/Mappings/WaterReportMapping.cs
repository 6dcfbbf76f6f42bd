using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Rows;

namespace Rootwater.Ledger.Mappings;

internal sealed class WaterReportMapping : IEntityTypeConfiguration<WaterReportRow>
{
    public void Configure(EntityTypeBuilder<WaterReportRow> builder)
    {
        builder.ToTable("water_reports");
        builder.Property(row => row.Id).ValueGeneratedNever();
        builder.HasIndex(row => new { row.WaterId, row.SampledOn });
        builder.Property(row => row.Values).HasConversion(JsonText.Of<IReadOnlyList<Rootwater.Ledger.Desks.ReportedValue>>());
        builder.Property(row => row.Source).HasConversion(JsonText.Of<Rootwater.Growing.Waters.WaterSource>());
    }
}
