using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger.Projections;

namespace Rootwater.Database.Tests.Laws;

/// <summary>Whatever was told, taken back and put right: the tables as they were written along the way are those that follow from the facts alone.</summary>
public abstract class ProjectionLaws : OnADatabase
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public async Task Tables_written_along_the_way_are_those_made_again_from_the_facts(int seed)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var can = (await Desks.Mixing.SaveCanAsync(Small.Card(), Cancel)).Id;
        var history = new RandomHistory(Desks, Small, can, seed);

        await history.RunAsync(80, Cancel);
        var poured = await Desks.Mixing.PourAsync(can, cancel: Cancel);
        await history.RunAsync(40, Cancel);
        await Desks.Mixing.UndoPourAsync(can, cancel: Cancel);
        await history.RunAsync(40, Cancel);

        (await LedgerCheck.CheckAsync(Desks.Database, Cancel)).Differences.ShouldBeEmpty();
        history.Written.ShouldBeGreaterThan(40);
        history.Undone.ShouldBeGreaterThan(5);
        history.Corrected.ShouldBeGreaterThan(5);
        history.Refused.ShouldBeGreaterThan(20, "this grower is careless");
        poured.LitresLeft.ShouldBeLessThan(5);
    }
}

public sealed class ProjectionLawsOnSqlite : ProjectionLaws
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class ProjectionLawsOnPostgres(PostgresServer server) : ProjectionLaws
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
