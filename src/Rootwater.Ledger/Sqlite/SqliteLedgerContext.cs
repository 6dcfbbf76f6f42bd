using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Sqlite;

/// <summary>The ledger in a SQLite file.</summary>
public sealed class SqliteLedgerContext(DbContextOptions<SqliteLedgerContext> options) : LedgerContext(options);
