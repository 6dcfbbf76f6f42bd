using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Rootwater.Ledger.Mappings;

/// <summary>A table's columns and the values a row has in them, as the mapping says; for writing many rows past the change tracker.</summary>
internal sealed class RowColumns(IEntityType type)
{
    private readonly (string Name, Func<object, object?> Value)[] _columns =
    [
        .. type.GetProperties().Select(property =>
        {
            var (getter, converter) = (property.GetGetter(), property.GetTypeMapping().Converter);
            return (property.GetColumnName(), (Func<object, object?>)(row => getter.GetClrValue(row) is not { } value ? null : converter is null ? value : converter.ConvertToProvider(value)));
        }),
    ];

    public string Table { get; } = type.GetTableName()!;
    public int Count => _columns.Length;

    /// <summary>Quoted: some are words of SQL.</summary>
    public IEnumerable<string> Names => _columns.Select(column => $"\"{column.Name}\"");

    public object? Value(int column, object row) => _columns[column].Value(row);
}
