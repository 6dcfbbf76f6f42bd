using System.Data.Common;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Rootwater.Ledger.Facts;
using Rootwater.Ledger.Mappings;

namespace Rootwater.Ledger.Projections;

/// <summary>What a check of the ledger found.</summary>
/// <param name="Facts">Facts read.</param>
/// <param name="Tables">Rows of each table that follows from them.</param>
/// <param name="Differences">Rows that are not what the facts say, with their table; empty when all is well.</param>
public sealed record LedgerCheckReport(long Facts, IReadOnlyDictionary<string, int> Tables, IReadOnlyList<string> Differences);

/// <summary>Makes every table again from the facts alone, and says whether it comes out as it stood.</summary>
public static class LedgerCheck
{
    private const int FactsAtATime = 2000;
    private const int MostDifferences = 50;

    /// <summary>Compares and leaves everything as it was.</summary>
    public static Task<LedgerCheckReport> CheckAsync(BenchDatabase database, CancellationToken cancel = default) => RunAsync(database, keep: false, cancel);

    /// <summary>Compares and keeps the tables made anew.</summary>
    public static Task<LedgerCheckReport> RebuildAsync(BenchDatabase database, CancellationToken cancel = default) => RunAsync(database, keep: true, cancel);

    private static async Task<LedgerCheckReport> RunAsync(BenchDatabase database, bool keep, CancellationToken cancel)
    {
        LedgerCheckReport? report = null;
        try
        {
            await database.WriteAsync(async db =>
            {
                db.Many = new ManyRows(database, db);
                report = await CompareAsync(db, cancel);
                return keep ? true : throw new LeftAsItWas();
            }, cancel);
        }
        catch (LeftAsItWas)
        {
            // The transaction is gone with it.
        }

        return report!;
    }

    private static async Task<LedgerCheckReport> CompareAsync(LedgerContext db, CancellationToken cancel)
    {
        var tables = db.Model.GetEntityTypes().Where(entity => entity.ClrType != typeof(Fact)).Select(entity => entity.GetTableName()!).Order(StringComparer.Ordinal).ToList();
        foreach (var table in tables)
        {
            // Set aside in the database, not in memory: a large bench has a million rows.
            await RunAsync(db, $"CREATE TEMPORARY TABLE {Aside(table)} AS SELECT * FROM {table}", cancel);
            await RunAsync(db, $"DELETE FROM {table}", cancel);
        }

        var facts = await ReplayAsync(db, cancel);
        var differences = new List<string>();
        var counts = new Dictionary<string, int>();
        foreach (var table in tables)
        {
            counts[table] = (int)(await RowsAsync(db, $"SELECT count(*) AS rows FROM {table}", row => Convert.ToInt64(row.GetValue(0), CultureInfo.InvariantCulture), cancel))[0];
            differences.AddRange(await DifferenceAsync(db, Aside(table), table, $"{table}: stood but does not follow from the facts", cancel));
            differences.AddRange(await DifferenceAsync(db, table, Aside(table), $"{table}: follows from the facts but was not there", cancel));
            await RunAsync(db, $"DROP TABLE {Aside(table)}", cancel);
        }

        return new LedgerCheckReport(facts, counts, [.. differences.Take(MostDifferences)]);
    }

    private static string Aside(string table) => $"aside_{table}";

    private static async Task<long> ReplayAsync(LedgerContext db, CancellationToken cancel)
    {
        db.TrackUntilSent();
        long position = 0;
        while (true)
        {
            var facts = await db.Facts.AsNoTracking().Where(fact => fact.Position > position).OrderBy(fact => fact.Position).Take(FactsAtATime).ToListAsync(cancel);
            foreach (var fact in facts)
            {
                if (fact.Position != ++position)
                {
                    throw new LedgerProblem(LedgerFault.Corrupt, $"Fact {position} is missing from the ledger. Restore the newest backup.");
                }

                await Projector.ApplyAsync(db, fact, FactKinds.Read(fact.Kind, fact.Version, fact.Payload), cancel);
            }

            await db.SendRowsAsync(cancel);
            db.ChangeTracker.Clear();
            if (facts.Count < FactsAtATime)
            {
                await db.SendAsync(cancel);
                return position;
            }
        }
    }

    private static Task<List<string>> DifferenceAsync(LedgerContext db, string left, string right, string words, CancellationToken cancel) => RowsAsync(
        db,
        $"SELECT * FROM {left} EXCEPT SELECT * FROM {right} LIMIT {MostDifferences}",
        row => $"{words}: " + string.Join(" | ", Enumerable.Range(0, row.FieldCount).Select(i => $"{row.GetName(i)}={(row.IsDBNull(i) ? "null" : Convert.ToString(row.GetValue(i), CultureInfo.InvariantCulture))}")),
        cancel);

    private static async Task<List<T>> RowsAsync<T>(LedgerContext db, string sql, Func<DbDataReader, T> read, CancellationToken cancel)
    {
        await using var select = Command(db, sql);
        await using var reader = await select.ExecuteReaderAsync(cancel);
        var rows = new List<T>();
        while (await reader.ReadAsync(cancel))
        {
            rows.Add(read(reader));
        }

        return rows;
    }

    private static async Task RunAsync(LedgerContext db, string sql, CancellationToken cancel)
    {
        await using var command = Command(db, sql);
        await command.ExecuteNonQueryAsync(cancel);
    }

    // Table names come from our own mapping, never from outside.
    private static DbCommand Command(LedgerContext db, string sql)
    {
        var command = db.Database.GetDbConnection().CreateCommand();
        command.CommandText = sql;
        command.Transaction = db.Database.CurrentTransaction?.GetDbTransaction();
        return command;
    }

    private sealed class LeftAsItWas : Exception;
}
