using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace Rootwater.Ledger.Sqlite;

/// <summary>For dotnet-ef, which writes the migrations; no database is opened.</summary>
internal sealed class SqliteDesignTime : IDesignTimeDbContextFactory<SqliteLedgerContext>
{
    public SqliteLedgerContext CreateDbContext(string[] args) => new(new DbContextOptionsBuilder<SqliteLedgerContext>().UseSqlite("Data Source=:memory:").Options);
}
