using Microsoft.Extensions.Time.Testing;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Sensors;

namespace Rootwater.Web.Tests.Sensors;

/// <summary>Air across restarts and crashes, on a real ledger: the day goes on where it was, and nothing that was taken in is lost.</summary>
public sealed class SensorInboxTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("rootwater-inbox-").FullName;
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 3, 14, 8, 30, 0, TimeSpan.Zero));
    private BenchDesks _desks = null!;
    private Rootwater.Growing.Bench.Place _place = null!;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder, "bench.db") }, demo: true, clock: _clock, story: DemoStory.ThreeMonths, cancel: Cancel);
        _place = (await _desks.Plants.PlacesAsync(Cancel))[0];
    }

    private SensorInbox Started() => new(_desks.Plants, _desks.Facts, _desks.Readings, _desks.Settings, new AirNotebook(Path.Combine(_folder, "air.notes")), _clock);

    private async Task SayAsync(SensorInbox inbox, double celsius)
    {
        var (message, _) = SensorMessage.Read("rootwater", $"rootwater/place/{SensorMessage.TopicName(_place.Name)}/air/celsius", FormattableString.Invariant($"{celsius}"));
        (await inbox.TakeAsync(message!, retained: false, Cancel)).ShouldBeNull();
    }

    private async Task<IReadOnlyList<double?>> TodayAsync()
    {
        var zone = (await _desks.Settings.GetAsync(Cancel)).Zone;
        var today = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(_clock.GetUtcNow(), TimeZoneInfo.FindSystemTimeZoneById(zone)).DateTime);
        return [.. (await _desks.Readings.AirDayAsync(_place.Id, today, ReadingFrom.Probe, Cancel))?.Samples.Select(sample => sample.TemperatureCelsius) ?? []];
    }

    [Fact]
    public async Task A_day_goes_on_after_a_restart_on_the_same_day()
    {
        var morning = Started();
        await SayAsync(morning, 16);
        await morning.FlushAsync(Cancel);
        _clock.Advance(TimeSpan.FromHours(2));
        var later = Started();
        await SayAsync(later, 20);
        await later.FlushAsync(Cancel);
        (await TodayAsync()).ShouldBe([16, 20]);
    }

    [Fact]
    public async Task A_crash_costs_no_air_that_was_taken_in()
    {
        var crashed = Started();
        await SayAsync(crashed, 16);
        await SayAsync(crashed, 18);
        _clock.Advance(TimeSpan.FromHours(1));
        await SayAsync(crashed, 21);
        (await TodayAsync()).ShouldBeEmpty("nothing was written before the crash");

        await File.AppendAllTextAsync(Path.Combine(_folder, "air.notes"), "{\"PlaceId\":\"01", Cancel);
        var after = Started();
        await after.FlushAsync(Cancel);
        (await TodayAsync()).ShouldBe([17, 21]);

        // And it is in the ledger now, not twice.
        await Started().FlushAsync(Cancel);
        (await TodayAsync()).ShouldBe([17, 21]);
    }

    public async ValueTask DisposeAsync()
    {
        await _desks.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }
}
