using MQTTnet;
using MQTTnet.Protocol;
using Rootwater.Ledger;
using Rootwater.Web.Network;

namespace Rootwater.Web.Sensors;

/// <summary>Which broker is listened to; without a host nothing is. Set by <c>--mqtt:host</c> and its neighbours, or the environment (<c>mqtt__password</c>).</summary>
public sealed record MqttSettings
{
    public string? Host { get; init; }
    public int Port { get; init; } = 1883;
    public bool Tls { get; init; }
    public string? User { get; init; }
    public string? Password { get; init; }

    /// <summary>First level of the topics.</summary>
    public string Prefix { get; init; } = "rootwater";
}

/// <summary>Listens to a broker and puts what probes send into the inbox. It never publishes. A broker that is away is tried again, ever more seldom.</summary>
public sealed partial class MqttListener(MqttSettings settings, SensorInbox inbox, ILogger<MqttListener> log) : BackgroundService
{
    private static readonly TimeSpan s_first = TimeSpan.FromSeconds(2), s_longest = TimeSpan.FromMinutes(5);

    /// <summary>Reads the settings and adds the listener where a host is named.</summary>
    public static void AddTo(WebApplicationBuilder builder)
    {
        var settings = builder.Configuration.GetSection("mqtt").Get<MqttSettings>() ?? new MqttSettings();
        builder.Services.AddSingleton(services => new AirNotebook(Path.Combine(services.GetRequiredService<AccessStore>().Folder, "air.notes")));
        builder.Services.AddSingleton<SensorInbox>();
        if (string.IsNullOrWhiteSpace(settings.Host))
            return;
        builder.Services.AddSingleton(settings with { Prefix = settings.Prefix.Trim('/') });
        builder.Services.AddHostedService<MqttListener>();
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var wait = s_first;
        var options = new MqttClientOptionsBuilder().WithTcpServer(settings.Host, settings.Port).WithCleanStart(false).WithSessionExpiryInterval(3600).WithClientId("rootwater-" + Environment.MachineName)
            .WithTlsOptions(tls => tls.UseTls(settings.Tls));
        if (settings.User is not null)
            options = options.WithCredentials(settings.User, settings.Password);
        while (!stoppingToken.IsCancellationRequested)
        {
            using var client = new MqttClientFactory().CreateMqttClient();
            var gone = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            client.DisconnectedAsync += _ =>
            {
                gone.TrySetResult();
                return Task.CompletedTask;
            };
            client.ApplicationMessageReceivedAsync += async received => await TakeAsync(received.ApplicationMessage, stoppingToken);
            try
            {
                await client.ConnectAsync(options.Build(), stoppingToken);
                await client.SubscribeAsync(new MqttClientSubscribeOptionsBuilder().WithTopicFilter(filter => filter.WithTopic(settings.Prefix + "/#").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)).Build(), stoppingToken);
                wait = s_first;
                await gone.Task.WaitAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                break;
            }
            catch (Exception fault)
            {
                // Whatever keeps the broker away (network, refusal, TLS): say it and try again.
                Away(log, settings.Host!, settings.Port, fault.Message);
            }

            try
            {
                await Task.Delay(wait, stoppingToken);
            }
            catch (OperationCanceledException)
            {
                break;
            }

            wait = wait * 2 > s_longest ? s_longest : wait * 2;
        }
    }

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        try
        {
            await inbox.FlushAsync(cancellationToken);
        }
        catch (Exception fault) when (fault is LedgerProblem or EntryException)
        {
            NotKept(log, "the last hours of air", fault.Message);
        }
    }

    private async Task TakeAsync(MqttApplicationMessage message, CancellationToken cancel)
    {
        try
        {
            var (read, why) = message.Payload.Length > 4096 ? (null, "it is larger than 4096 bytes.") : SensorMessage.Read(settings.Prefix, message.Topic, message.ConvertPayloadToString() ?? "");
            if (read is not null)
                why = await inbox.TakeAsync(read, message.Retain, cancel);
            if (why is not null)
                NotKept(log, message.Topic, why);
        }
        catch (Exception fault) when (fault is LedgerProblem or EntryException)
        {
            NotKept(log, message.Topic, fault.Message);
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The MQTT broker {Host}:{Port} does not answer ({Why}); trying again.")]
    private static partial void Away(ILogger log, string host, int port, string why);

    [LoggerMessage(Level = LogLevel.Warning, Message = "A probe's message was not kept: {Topic}: {Why}")]
    private static partial void NotKept(ILogger log, string topic, string why);
}
