using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Metadata;
using Rootwater.Ledger.Sqlite;

namespace Rootwater.Ledger.Tests.Sqlite;

/// <summary>The model that is compiled into the program against the one its mappings build.</summary>
public sealed class CompiledModelTests
{
    [Fact]
    public void The_compiled_model_is_what_the_mappings_say()
    {
        using var db = new SqliteLedgerContext(new DbContextOptionsBuilder<SqliteLedgerContext>().UseSqlite("Data Source=:memory:").Options);
        var built = db.GetService<IDesignTimeModel>().Model;

        db.Model.ShouldNotBeSameAs(built);
        Lines(db.Model).ShouldBe(Lines(built));
    }

    private static List<string> Lines(IModel model) =>
    [
        .. model.GetEntityTypes().OrderBy(type => type.Name, StringComparer.Ordinal).SelectMany(type => (IEnumerable<string>)
        [
            $"{type.Name} in {type.GetTableName()} by {string.Join(',', type.FindPrimaryKey()!.Properties.Select(property => property.Name))}",
            .. type.GetProperties().OrderBy(property => property.Name, StringComparer.Ordinal).Select(property =>
                $"{type.Name}.{property.Name} {property.ClrType} {property.GetColumnName()} {property.GetColumnType()} nullable {property.IsNullable} generated {property.ValueGenerated} through {property.GetTypeMapping().Converter?.ProviderClrType}"),
            .. type.GetIndexes().Select(index => $"{type.Name} index {string.Join(',', index.Properties.Select(property => property.Name))} unique {index.IsUnique}").Order(StringComparer.Ordinal),
        ]),
    ];
}
