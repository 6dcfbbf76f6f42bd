using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Mappings;

/// <summary>Rows on their way into the database by the engine's fastest road, past the change tracker.</summary>
/// <param name="database">Knows that road.</param>
/// <param name="db">Whose transaction they go into.</param>
internal sealed class ManyRows(BenchDatabase database, LedgerContext db)
{
    private readonly Dictionary<Type, List<object>> _waiting = [];
    private readonly Dictionary<Type, RowColumns> _columns = [];

    public void Add(object row)
    {
        if (!_waiting.TryGetValue(row.GetType(), out var rows))
        {
            _waiting[row.GetType()] = rows = [];
        }

        rows.Add(row);
    }

    /// <summary>Sends them, and what is new in the change tracker.</summary>
    public async Task SendAsync(CancellationToken cancel)
    {
        foreach (var (type, rows) in _waiting)
        {
            await InsertAsync(type, rows, cancel);
            rows.Clear();
        }

        foreach (var group in db.ChangeTracker.Entries().Where(entry => entry.State == EntityState.Added).GroupBy(entry => entry.Metadata.ClrType).ToList())
        {
            await InsertAsync(group.Key, [.. group.Select(entry => entry.Entity)], cancel);
            foreach (var entry in group)
            {
                entry.State = EntityState.Unchanged;
            }
        }
    }

    private async Task InsertAsync(Type type, List<object> rows, CancellationToken cancel)
    {
        if (rows.Count > 0)
        {
            if (!_columns.TryGetValue(type, out var columns))
            {
                _columns[type] = columns = new RowColumns(db.Model.FindEntityType(type)!);
            }

            await database.InsertAsync(db, columns, rows, cancel);
        }
    }
}
