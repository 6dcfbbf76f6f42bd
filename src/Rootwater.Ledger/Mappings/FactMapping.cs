using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Mappings;

internal sealed class FactMapping : IEntityTypeConfiguration<Fact>
{
    public void Configure(EntityTypeBuilder<Fact> builder)
    {
        builder.ToTable("facts");
        builder.HasKey(fact => fact.Id);
        builder.Property(fact => fact.Id).ValueGeneratedNever();
        builder.HasIndex(fact => fact.Position).IsUnique();
        builder.HasIndex(fact => new { fact.SubjectId, fact.Position });
        builder.HasIndex(fact => fact.Earliest);
        builder.HasIndex(fact => fact.Corrects).HasFilter("corrects IS NOT NULL");
        builder.Ignore(fact => fact.When);
        builder.Ignore(fact => fact.RecordedAt);
    }
}
