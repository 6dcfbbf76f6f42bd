using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;

namespace Rootwater.Ledger.Desks;

/// <summary>
/// A few columns read in SQL that both engines understand. A query of EF Core costs hundredths of a second when it is first asked in a program, and a command
/// of the terminal asks each once: what needs no rows of the mapping is asked here.
/// </summary>
internal static class PlainSql
{
    /// <param name="db">The bench.</param>
    /// <param name="sql">With parameters as @name; words of SQL that are columns in double quotes.</param>
    /// <param name="values">The parameters.</param>
    /// <param name="read">One row; an object rather than a tuple, whose code would be compiled anew at every start.</param>
    /// <param name="cancel">Stops reading.</param>
    public static async Task<List<T>> ReadAsync<T>(LedgerContext db, string sql, IEnumerable<(string Name, object Value)> values, Func<DbDataReader, T> read, CancellationToken cancel) where T : class
    {
        await db.Database.OpenConnectionAsync(cancel);
        try
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.Transaction = db.Database.CurrentTransaction?.GetDbTransaction();
            command.CommandText = sql;
            foreach (var (name, value) in values)
            {
                var parameter = command.CreateParameter();
                (parameter.ParameterName, parameter.Value) = (name, value);
                command.Parameters.Add(parameter);
            }

            await using var reader = await command.ExecuteReaderAsync(cancel);
            var rows = new List<T>();
            while (await reader.ReadAsync(cancel))
            {
                rows.Add(read(reader));
            }

            return rows;
        }
        finally
        {
            await db.Database.CloseConnectionAsync();
        }
    }

    public static double? DoubleOrNull(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetDouble(column);

    public static Guid? GuidOrNull(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetGuid(column);

    public static string? TextOrNull(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    public static DateOnly? DayOrNull(this DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.Day(column);

    public static DateOnly Day(this DbDataReader reader, int column) => reader.GetFieldValue<DateOnly>(column);
}
