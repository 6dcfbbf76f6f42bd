using Microsoft.EntityFrameworkCore;

namespace Rootwater.Ledger.Postgres;

/// <summary>The ledger in a PostgreSQL database.</summary>
public sealed class PostgresLedgerContext(DbContextOptions<PostgresLedgerContext> options) : LedgerContext(options);
