using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Rootwater.Ledger.Postgres;

/// <summary>For dotnet-ef, which writes the migrations; no database is opened.</summary>
internal sealed class PostgresDesignTime : IDesignTimeDbContextFactory<PostgresLedgerContext>
{
    public PostgresLedgerContext CreateDbContext(string[] args) => new(new DbContextOptionsBuilder<PostgresLedgerContext>().UseNpgsql("Host=localhost").Options);
}
