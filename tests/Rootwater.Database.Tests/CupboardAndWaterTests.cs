using Microsoft.EntityFrameworkCore;
using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Waters;
using Rootwater.Ledger;
using Rootwater.Ledger.Desks;

namespace Rootwater.Database.Tests;

/// <summary>What is entered at the cupboard and at the tap, on both databases.</summary>
public abstract class CupboardAndWaterTests : OnADatabase
{
    private static readonly NewProduct s_salt = new() { Name = "potassium nitrate, fine", Formula = "KNO3", PricePerKg = 4.20m };

    [Fact]
    public async Task A_product_sent_twice_is_said_once_and_edited_it_is_said_again()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        await Desks.Cupboard.SaveProductAsync(s_salt, Cancel);
        await Desks.Cupboard.SaveProductAsync(s_salt, Cancel);
        (await FactsAsync("product.set", s_salt.Id)).ShouldBe(1);

        var edited = await Desks.Cupboard.SaveProductAsync(s_salt with { PricePerKg = 5.10m }, Cancel);
        edited.Product.PricePerKg.ShouldBe(5.10m);
        (await FactsAsync("product.set", s_salt.Id)).ShouldBe(2);
        (await Desks.Cupboard.ListAsync(Cancel)).Count(item => item.Product.Id == s_salt.Id).ShouldBe(1);
    }

    [Fact]
    public async Task A_product_that_cannot_be_read_is_not_kept()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Cupboard.SaveProductAsync(s_salt with { Formula = "K2NO?" }, Cancel));

        refused.Problems.ShouldContain(problem => problem.Field == "formula");
        (await Desks.Cupboard.GetAsync(s_salt.Id, Cancel)).ShouldBeNull();
    }

    [Fact]
    public async Task Packages_add_up_and_the_opened_one_is_used_first()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var opened = new NewLot { ProductId = Small.SaltId, Grams = 250, BoughtOn = new DateOnly(2026, 2, 1), OpenedOn = new DateOnly(2026, 2, 2) };

        await Desks.Cupboard.AddLotAsync(opened, Cancel);
        var supply = await Desks.Cupboard.AddLotAsync(opened, Cancel);

        supply.GramsLeft.ShouldBe(750);
        supply.Lots[0].Id.ShouldBe(opened.Id);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(2e6)]
    public async Task A_supply_that_cannot_be_is_refused_and_the_old_one_stands(double grams)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        (await Should.ThrowAsync<EntryException>(() => Desks.Cupboard.CorrectSupplyAsync(Small.SaltLot, grams, cancel: Cancel))).Problems.Single().Field.ShouldBe("grams left");

        (await Desks.Cupboard.GetAsync(Small.SaltId, Cancel))!.GramsLeft.ShouldBe(500);
    }

    [Fact]
    public async Task A_package_of_nothing_known_is_refused()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);

        var refused = await Should.ThrowAsync<EntryException>(() => Desks.Cupboard.AddLotAsync(new NewLot { ProductId = Guid.CreateVersion7(), Grams = 10 }, Cancel));

        refused.Problems.Single().Field.ShouldBe("product");
    }

    [Fact]
    public async Task A_water_is_what_its_newest_report_says_whichever_was_typed_in_last()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var tap = await Desks.Water.SaveWaterAsync(new NewWater { Name = "tap" }, Cancel);
        tap.Source.ShouldBeNull("no report yet");
        (await Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).Waters.Select(water => water.Name).ShouldBe(["rain barrel"]);

        await Desks.Water.AddReportAsync(Report(tap.Id, new DateOnly(2026, 2, 1), kh: 11), Cancel);
        var view = await Desks.Water.AddReportAsync(Report(tap.Id, new DateOnly(2025, 2, 1), kh: 5), Cancel);

        view.Reports.Select(report => report.Entry.SampledOn).ShouldBe([new DateOnly(2026, 2, 1), new DateOnly(2025, 2, 1)]);
        // 11 German degrees of 0.35665 meq/L.
        view.Reports[0].Read.AlkalinityMeqPerLitre!.Value.ShouldBe(3.92, 0.15);
        view.Source!.MolPerKgWater.ShouldBe(view.Reports[0].Read.Source!.MolPerKgWater);
        view.Reports[0].Entry.Values.ShouldContain(new ReportedValue("KH", 11, "°dH"));
    }

    [Fact]
    public async Task A_water_report_with_a_wrong_value_is_refused_whole()
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        var report = Report(Small.WaterId, new DateOnly(2026, 3, 1), kh: 11);

        await Should.ThrowAsync<EntryException>(() => Desks.Water.AddReportAsync(report with { Values = [.. report.Values, new("pH", 19, "")] }, Cancel));

        (await Desks.Water.GetAsync(Small.WaterId, Cancel))!.Reports.Count.ShouldBe(1);
    }

    [Fact]
    public async Task A_water_without_a_name_is_refused_by_field()
    {
        (await Should.ThrowAsync<EntryException>(() => Desks.Water.SaveWaterAsync(new NewWater { Name = " ", AvailableLitres = -3 }, Cancel)))
            .Problems.Select(problem => problem.Field).ShouldBe(["name", "litres to draw on"]);
    }

    private static NewWaterReport Report(Guid water, DateOnly day, double kh) => new()
    {
        WaterId = water,
        SampledOn = day,
        Origin = WaterOrigin.Ground,
        Values = [new("EC", 560, "µS/cm"), new("GH", 14, "°dH"), new("KH", kh, "°dH")],
        From = "pen and drops",
    };

    private Task<int> FactsAsync(string kind, Guid subject) =>
        Desks.Database.ReadAsync(db => db.Facts.CountAsync(fact => fact.Kind == kind && fact.SubjectId == subject, Cancel), Cancel);
}

public sealed class CupboardAndWaterOnSqlite : CupboardAndWaterTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class CupboardAndWaterOnPostgres(PostgresServer server) : CupboardAndWaterTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
