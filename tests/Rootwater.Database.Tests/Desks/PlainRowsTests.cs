using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Rows read in plain SQL are those that EF Core reads by the mapping, on both databases.</summary>
public abstract class PlainRowsTests : OnADatabase
{
    [Fact]
    public async Task Every_row_a_plan_reads_is_the_one_the_mapping_reads()
    {
        await LeanTo.FillIfEmptyAsync(Desks.Database, Clock, cancel: Cancel);

        await Desks.Database.ReadAsync(
            async db =>
            {
                Same([(await PlainRows.BenchAsync(db, Cancel))!], await db.Benches.ToListAsync(Cancel));
                Same(await PlainRows.WantsAsync(db, Cancel), await db.Wants.ToListAsync(Cancel));
                Same(await PlainRows.PlacesAsync(db, Cancel), await db.Places.ToListAsync(Cancel));
                Same(await PlainRows.LivingPlantsAsync(db, null, Cancel), await db.Plants.Where(plant => plant.LostOn == null).ToListAsync(Cancel));
                Same(await PlainRows.StandingPotsAsync(db, null, Cancel), await db.Pots.Where(pot => pot.LeftOn == null).ToListAsync(Cancel));
                Same(await PlainRows.LotsAsync(db, Cancel), await db.Lots.ToListAsync(Cancel));
                Same(await PlainRows.ProductsAsync(db, Cancel), await db.Products.ToListAsync(Cancel));
                Same(await PlainRows.WatersAsync(db, Cancel), await db.Waters.ToListAsync(Cancel));
                Same(await PlainRows.WaterReportsAsync(db, Cancel), await db.WaterReports.ToListAsync(Cancel));
                return true;
            },
            Cancel);
    }

    [Fact]
    public async Task One_plant_is_found_with_its_pot()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        await Desks.Database.ReadAsync(
            async db =>
            {
                var plant = (await db.Plants.ToListAsync(Cancel))[0];
                (await PlainRows.LivingPlantsAsync(db, plant.Id, Cancel)).ShouldHaveSingleItem().Id.ShouldBe(plant.Id);
                (await PlainRows.StandingPotsAsync(db, plant.Id, Cancel)).ShouldAllBe(pot => pot.PlantId == plant.Id);
                (await PlainRows.LivingPlantsAsync(db, Guid.NewGuid(), Cancel)).ShouldBeEmpty();
                return true;
            },
            Cancel);
    }

    [Fact]
    public async Task Facts_about_some_things_come_in_the_order_they_were_written()
    {
        await LeanTo.FillIfEmptyAsync(Desks.Database, Clock, cancel: Cancel);

        await Desks.Database.ReadAsync(
            async db =>
            {
                var some = await db.Facts.OrderByDescending(fact => fact.Position).Take(40).ToListAsync(Cancel);
                List<Guid> subjects = [.. some.Select(fact => fact.SubjectId).Distinct()];
                List<string> kinds = [.. some.Select(fact => fact.Kind).Distinct()];
                var mapped = await db.Facts.Where(fact => subjects.Contains(fact.SubjectId) && kinds.Contains(fact.Kind)).OrderBy(fact => fact.Position).ToListAsync(Cancel);

                var plain = await PlainRows.FactsAsync(db, subjects, kinds, Cancel);

                plain.Select(fact => fact.Position).ShouldBe(mapped.Select(fact => fact.Position));
                Same(plain, mapped);
                (await PlainRows.FactsAsync(db, [], kinds, Cancel)).ShouldBeEmpty();
                return true;
            },
            Cancel);
    }

    private static void Same<T>(IReadOnlyList<T> plain, IReadOnlyList<T> mapped)
    {
        mapped.ShouldNotBeEmpty(typeof(T).Name);
        plain.Select(FactJson.Write).Order(StringComparer.Ordinal).ShouldBe(mapped.Select(FactJson.Write).Order(StringComparer.Ordinal));
    }
}

public sealed class PlainRowsOnSqlite : PlainRowsTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class PlainRowsOnPostgres(PostgresServer server) : PlainRowsTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
