using Npgsql;

namespace Rootwater.Ledger.Postgres;

/// <summary>Sets a bench's schema aside under another name, so that a restored one can take its place.</summary>
internal static class PostgresSchemas
{
    /// <summary>Renames the schema and makes an empty one in its place.</summary>
    /// <returns>The name it is kept under.</returns>
    public static Task<string> SetAsideAsync(string location, string stamp, CancellationToken cancel) => RunAsync(location, async (connection, schema) =>
    {
        var kept = $"{schema}_replaced_{stamp}";
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        await ExecuteAsync(connection, "SET LOCAL lock_timeout = '2s'", cancel);
        await using (var there = new NpgsqlCommand("SELECT to_regclass($1) IS NOT NULL", connection) { Parameters = { new() { Value = $"{Quoted(schema)}.facts" } } })
        {
            if (await there.ExecuteScalarAsync(cancel) is true)
            {
                // Waits for whoever is writing, and for nobody longer than two seconds.
                await ExecuteAsync(connection, $"LOCK TABLE {Quoted(schema)}.facts IN ACCESS EXCLUSIVE MODE", cancel);
            }
        }

        await ExecuteAsync(connection, $"ALTER SCHEMA {Quoted(schema)} RENAME TO {Quoted(kept)}", cancel);
        await ExecuteAsync(connection, $"CREATE SCHEMA {Quoted(schema)}", cancel);
        await transaction.CommitAsync(cancel);
        return kept;
    }, cancel);

    /// <summary>Drops what was made in its place and gives it its name again.</summary>
    public static Task PutBackAsync(string location, string kept, CancellationToken cancel) => RunAsync(location, async (connection, schema) =>
    {
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        await ExecuteAsync(connection, $"DROP SCHEMA {Quoted(schema)} CASCADE", cancel);
        await ExecuteAsync(connection, $"ALTER SCHEMA {Quoted(kept)} RENAME TO {Quoted(schema)}", cancel);
        await transaction.CommitAsync(cancel);
        return true;
    }, cancel);

    private static async Task<T> RunAsync<T>(string location, Func<NpgsqlConnection, string, Task<T>> work, CancellationToken cancel)
    {
        var settings = PostgresBench.Settings(location);
        var schema = settings.SearchPath?.Split(',')[0].Trim().Trim('"') is { Length: > 0 } named ? named : "public";
        try
        {
            await using var connection = new NpgsqlConnection(settings.ToString());
            await connection.OpenAsync(cancel);
            return await work(connection, schema);
        }
        catch (PostgresException error)
        {
            throw new LedgerProblem(error.SqlState is "55P03" ? LedgerFault.Locked : LedgerFault.Conflict,
                $"The schema \"{schema}\" could not be set aside ({error.MessageText}). Nothing was changed: stop whatever uses it, and check that this user owns it.", error);
        }
    }

    private static async Task ExecuteAsync(NpgsqlConnection connection, string sql, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync(cancel);
    }

    private static string Quoted(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
