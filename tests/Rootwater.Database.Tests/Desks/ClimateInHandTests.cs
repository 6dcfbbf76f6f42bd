using Rootwater.Database.Tests.Hosts;
using Rootwater.Growing.Bench;
using Rootwater.Growing.Climate;
using Rootwater.Ledger.Desks;
using Rootwater.Ledger.Facts;
using static Rootwater.Database.Tests.Hosts.Entries;

namespace Rootwater.Database.Tests.Desks;

/// <summary>Logged days, read once and kept: what the seasons and the evidence take from them.</summary>
public abstract class ClimateInHandTests : OnADatabase
{
    private const double Lux = 5400, Photons = 80;
    private static readonly DateOnly s_first = new(2026, 3, 1);
    private static readonly Lamp s_led = Lamp.Named("white LED")!;

    [Fact]
    public async Task Lux_of_days_already_read_count_by_the_lamp_that_now_hangs_over_their_place()
    {
        await StartAsync(day => Logged(day, minute => new AirSample(minute, 20, 0.6, null, Lux)));
        await LightIsAsync(Lamp.Sun.Ppfd(Lux));

        await HangAsync(s_led);

        s_led.Ppfd(Lux).ShouldNotBe(Lamp.Sun.Ppfd(Lux));
        await LightIsAsync(s_led.Ppfd(Lux));
    }

    [Fact]
    public async Task Photons_read_as_photons_are_the_same_under_any_lamp()
    {
        await StartAsync(day => Logged(day, minute => new AirSample(minute, 20, 0.6, Photons, Lux)));
        await LightIsAsync(Photons);

        await HangAsync(s_led);

        await LightIsAsync(Photons);
    }

    [Fact]
    public async Task Of_two_that_read_the_same_day_the_fuller_counts_everywhere()
    {
        await StartAsync(
            day => Logged(day, minute => new AirSample(minute, 20, 0.6, null, Lux)),
            day => Told(Small.PlaceId, new AirDay(Small.PlaceId, day, ReadingFrom.Probe, [new AirSample(0, 35, null, null, null), new AirSample(60, 35, null, null, null)])));

        var (days, history) = await ReadAsync();

        days.Select(day => day.High).ShouldBe([20, 20, 20, 20, 20]);
        history.MeanHighest(Small.PlaceId, s_first.AddDays(4), 5).ShouldBe(20);
    }

    [Fact]
    public async Task A_day_of_one_temperature_has_a_mean_as_read_and_none_by_time()
    {
        await StartAsync(day => Told(Small.PlaceId, new AirDay(Small.PlaceId, day, ReadingFrom.Logger, [new AirSample(480, 18, null, null, null)])));

        var (days, history) = await ReadAsync();

        days.ShouldAllBe(day => day.Mean == null && day.MeanAsRead == 18 && day.Low == 18 && day.OneHourPpfd == null && day.MeanPpfd == null && day.DailyLightMoles == null);
        history.HasWarmth.ShouldBeTrue();
        history.HasLight.ShouldBeFalse();
    }

    private async Task LightIsAsync(double ppfd)
    {
        var (days, history) = await ReadAsync();
        days.Count.ShouldBe(5);
        foreach (var day in days)
        {
            day.OneHourPpfd!.Value.ShouldBe(ppfd, 1e-9);
            day.DailyLightMoles!.Value.ShouldBe(DailyLight.Steady(ppfd, 24), 1e-9);
        }

        history.Between([Small.PlaceId], s_first, s_first.AddDays(5)).Light!.Value.ShouldBe(ppfd, 1e-9);
    }

    private Task<(IReadOnlyList<ClimateDay> Days, AirHistory History)> ReadAsync() => Desks.Database.ReadAsync(async db =>
        (await ClimateInHand.OfAsync(db, Small.PlaceId, s_first, s_first.AddDays(4), Cancel), await AirHistory.ReadAsync(db, Cancel)));

    private async Task StartAsync(params Func<DateOnly, NewFact>[] readers)
    {
        await Log.AppendAsync(Small.Facts(), Cancel);
        await Desks.Facts.WriteAsync([.. Enumerable.Range(0, 5).SelectMany(i => readers.Select(reader => reader(s_first.AddDays(i))))], cancel: Cancel);
    }

    private Task HangAsync(Lamp lamp) => Desks.Facts.WriteAsync([Told(Small.PlaceId, new PlaceSet(new Place(Small.PlaceId, "shelf 1", 1, lamp.Name, "warm")))], cancel: Cancel);

    private NewFact Logged(DateOnly day, Func<int, AirSample> at) =>
        Told(Small.PlaceId, new AirDay(Small.PlaceId, day, ReadingFrom.Logger, [.. Enumerable.Range(0, 48).Select(half => at(30 * half))]));
}

public sealed class ClimateInHandOnSqlite : ClimateInHandTests
{
    protected override Task<IBenchHost> MakeHostAsync() => SqliteAsync();
}

public sealed class ClimateInHandOnPostgres(PostgresServer server) : ClimateInHandTests
{
    protected override Task<IBenchHost> MakeHostAsync() => PostgresAsync(server);
}
