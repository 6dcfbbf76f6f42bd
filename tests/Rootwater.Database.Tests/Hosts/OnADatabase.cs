using Microsoft.Extensions.Time.Testing;
using Rootwater.Ledger;

namespace Rootwater.Database.Tests.Hosts;

/// <summary>Statements that hold on both databases: each is written once, in an abstract class, and run on each.</summary>
public abstract class OnADatabase : IAsyncLifetime
{
    private IBenchHost? _host;
    private BenchDesks? _desks;

    /// <summary>Saturday 14 March 2026, nine in the morning.</summary>
    protected FakeTimeProvider Clock { get; } = new(new DateTimeOffset(2026, 3, 14, 9, 0, 0, TimeSpan.Zero));

    protected IBenchHost Host => _host!;

    protected BenchDesks Desks => _desks!;

    protected FactLog Log => Desks.Log;

    protected SmallBench Small { get; } = new();

    protected static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _host = await MakeHostAsync();
        _desks = await BenchDesks.OpenAsync(_host.Options, clock: Clock, cancel: Cancel);
    }

    public async ValueTask DisposeAsync()
    {
        if (_desks is not null)
        {
            await _desks.DisposeAsync();
        }

        if (_host is not null)
        {
            await _host.DisposeAsync();
        }
    }

    protected abstract Task<IBenchHost> MakeHostAsync();

    protected static Task<IBenchHost> SqliteAsync() => Task.FromResult<IBenchHost>(new SqliteHost());

    protected static async Task<IBenchHost> PostgresAsync(PostgresServer server)
    {
        await server.RequireAsync();
        return await PostgresHost.MakeAsync(server);
    }
}
