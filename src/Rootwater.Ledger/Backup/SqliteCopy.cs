using System.Globalization;
using Microsoft.Data.Sqlite;
using Rootwater.Ledger.Facts;

namespace Rootwater.Ledger.Backup;

/// <summary>What a copy of a SQLite bench holds, found by opening it.</summary>
internal sealed record CopyContent(long Facts, IReadOnlyList<string> Photos, IReadOnlyList<string> Problems);

/// <summary>Copies of SQLite files.</summary>
internal static class SqliteCopy
{
    /// <summary>SQLite's online backup: one consistent moment, while others read and write (https://sqlite.org/backup.html). The copy is one file without a log beside it.</summary>
    public static void Make(string from, string to)
    {
        using (var source = Open(from, SqliteOpenMode.ReadWrite))
        using (var target = Open(to, SqliteOpenMode.ReadWriteCreate))
        {
            source.BackupDatabase(target);
            Scalar(target, "PRAGMA journal_mode=DELETE");
        }

        using var file = new FileStream(to, FileMode.Open, FileAccess.ReadWrite);
        file.Flush(flushToDisk: true);
    }

    /// <summary>The engine's own check of every page and index, then the facts: numbered without gaps, ended by the last.</summary>
    public static CopyContent Look(string path)
    {
        try
        {
            using var copy = Open(path, SqliteOpenMode.ReadOnly);
            var check = Convert.ToString(Scalar(copy, "PRAGMA integrity_check(5)"), CultureInfo.InvariantCulture);
            if (check != "ok")
            {
                return new CopyContent(0, [], [$"the engine's check says: {check}"]);
            }

            var (count, last) = (Number(copy, "SELECT count(*) FROM facts"), Number(copy, "SELECT coalesce(max(position), 0) FROM facts"));
            return new CopyContent(count, [.. Photos(copy).Distinct().Order(StringComparer.Ordinal)], count == last ? [] : [$"it holds {count} facts, but the last is number {last}"]);
        }
        catch (SqliteException error)
        {
            return new CopyContent(0, [], [$"it cannot be opened: {error.Message}"]);
        }
    }

    /// <summary>Makes sure that nobody else has a bench open, and that all of it is in its one file.</summary>
    /// <exception cref="LedgerProblem">Another program has it open.</exception>
    public static void DemandAlone(string path)
    {
        try
        {
            using var connection = Open(path, SqliteOpenMode.ReadWrite);
            connection.DefaultTimeout = 1;
            // Leaving the write-ahead log needs the file to oneself: any other connection, even an idle one, stands in the way.
            if (Scalar(connection, "PRAGMA journal_mode=DELETE") as string != "delete")
            {
                throw Held(null);
            }
        }
        catch (SqliteException error) when (error.SqliteErrorCode is 5 or 6)
        {
            throw Held(error);
        }
        catch (SqliteException error) when (error.SqliteErrorCode is 11 or 26)
        {
            // Hurt, or no database: that is what restoring is for.
        }

        LedgerProblem Held(Exception? inner) => new(LedgerFault.Locked, $"{path} is open in another program. Nothing was changed: stop Rootwater there, then restore again.", inner);
    }

    private static IEnumerable<string> Photos(SqliteConnection copy)
    {
        using var command = copy.CreateCommand();
        command.CommandText = "SELECT version, payload FROM facts WHERE kind = 'photo.added'";
        using var reader = command.ExecuteReader();
        while (reader.Read())
        {
            if (FactKinds.Read("photo.added", reader.GetInt32(0), reader.GetString(1)) is PhotoAdded added)
            {
                yield return added.Sha256;
            }
        }
    }

    private static long Number(SqliteConnection copy, string sql) => Convert.ToInt64(Scalar(copy, sql), CultureInfo.InvariantCulture);

    private static object? Scalar(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private static SqliteConnection Open(string path, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = path, Mode = mode, Pooling = false }.ToString());
        connection.Open();
        return connection;
    }
}
