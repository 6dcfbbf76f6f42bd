using System.Net;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using MQTTnet;
using MQTTnet.Server;
using Rootwater.Ledger.Facts;
using Rootwater.Web.Sensors;

namespace Rootwater.Web.Tests.Sensors;

/// <summary>The listener against a broker in this process: what is published becomes facts, not too many, and nothing wrong stops it.</summary>
public sealed class MqttListenerTests : IAsyncLifetime
{
    private readonly FixturePlants _plants = new();
    private readonly FakeTimeProvider _clock = new(new DateTimeOffset(2026, 3, 14, 8, 30, 0, TimeSpan.Zero));
    private readonly int _port = FreePort.Take();
    private MqttServer _broker = null!;
    private MqttListener _listener = null!;
    private IMqttClient _probe = null!;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _broker = new MqttServerFactory().CreateMqttServer(new MqttServerOptionsBuilder().WithDefaultEndpoint().WithDefaultEndpointBoundIPAddress(IPAddress.Loopback).WithDefaultEndpointBoundIPV6Address(IPAddress.None).WithDefaultEndpointPort(_port).Build());
        await _broker.StartAsync();
        var subscribed = new TaskCompletionSource();
        _broker.ClientSubscribedTopicAsync += _ =>
        {
            subscribed.TrySetResult();
            return Task.CompletedTask;
        };
        _listener = new MqttListener(new MqttSettings { Host = "127.0.0.1", Port = _port }, new SensorInbox(_plants, _plants, _plants, _plants, new AirNotebook(null), _clock), NullLogger<MqttListener>.Instance);
        await _listener.StartAsync(Cancel);
        await subscribed.Task.WaitAsync(Cancel);
        _probe = new MqttClientFactory().CreateMqttClient();
        await _probe.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", _port).Build(), Cancel);
    }

    [Fact]
    public async Task A_reservoir_is_kept_once_an_hour_and_a_wrong_message_does_no_harm()
    {
        await SendAsync("rootwater/plant/17/reservoir", "{\"ph\":64}");
        await SendAsync("rootwater/plant/4711/reservoir", "{\"ph\":6.4}");
        await SendAsync("rootwater/plant/17/reservoir", "{\"ec_us_cm\":1100,\"ph\":6.4}");
        await SendAsync("rootwater/plant/17/reservoir", "{\"ec_us_cm\":1101,\"ph\":6.4}");
        await SendAsync("rootwater/plant/14/reservoir", "{\"ph\":6.1}");
        await UntilAsync(() => _plants.Written.Count >= 2);

        // Messages come in order: with the last one kept, the others have been judged.
        var kept = _plants.Written.Select(fact => (ReadingTaken)fact.Payload).ToList();
        kept.Count.ShouldBe(2);
        kept[0].EcMicrosiemensPerCm.ShouldBe(1100);
        kept[0].From.ShouldBe(ReadingFrom.Probe);
        kept[0].PotId.ShouldBe(FixtureLives.Id(170));
        kept[1].PlantId.ShouldBe(FixtureLives.Id(14));
    }

    [Fact]
    public async Task Air_gathers_into_a_day_that_is_written_when_the_program_stops()
    {
        await SendAsync("rootwater/place/shelf-2/air", "{\"celsius\":16,\"humidity_percent\":80}");
        await SendAsync("rootwater/place/shelf-2/air/celsius", "18");
        await SendAsync("rootwater/plant/17/runoff", "{\"ph\":6.4}");
        await UntilAsync(() => _plants.Written.Count >= 1);
        await _listener.StopAsync(Cancel);

        var day = _plants.Written.Select(fact => fact.Payload).OfType<AirDay>().Single();
        day.Day.ShouldBe(new DateOnly(2026, 3, 14));
        day.Samples.ShouldBe([new AirSample(9 * 60 + 30, 17, 0.8, null, null)], "half past eight in Greenwich is half past nine on the bench");
    }

    [Fact]
    public async Task What_a_broker_retained_without_a_time_is_not_taken_for_new()
    {
        var inbox = new SensorInbox(_plants, _plants, _plants, _plants, new AirNotebook(null), _clock);
        var (message, _) = SensorMessage.Read("rootwater", "rootwater/plant/17/reservoir", "{\"ph\":6.4}");
        (await inbox.TakeAsync(message!, retained: true, Cancel)).ShouldBeNull();
        _plants.Written.ShouldBeEmpty();
    }

    private Task SendAsync(string topic, string payload) => _probe.PublishAsync(new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).WithQualityOfServiceLevel(MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce).Build(), Cancel);

    private static async Task UntilAsync(Func<bool> so)
    {
        while (!so())
            await Task.Delay(20, Cancel);
    }

    public async ValueTask DisposeAsync()
    {
        await _listener.StopAsync(CancellationToken.None);
        _listener.Dispose();
        _probe.Dispose();
        await _broker.StopAsync();
        _broker.Dispose();
    }
}
