using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Rootwater.Web.Hosting;

namespace Rootwater.Web.Network;

/// <summary>What Kestrel and the host filter are told while the home network is on; nothing while it is off.</summary>
public sealed class NetworkConfiguration : ConfigurationProvider, IConfigurationSource
{
    public IConfigurationProvider Build(IConfigurationBuilder builder) => this;

    public void Tell(IDictionary<string, string?> data)
    {
        Data = new Dictionary<string, string?>(data, StringComparer.OrdinalIgnoreCase);
        OnReload();
    }
}

/// <summary>The switch "home network on": HTTPS with the bench's own certificate on a port of its own, beside plain HTTP on this machine only.</summary>
public sealed partial class HomeNetwork(AccessStore store, Passphrase passphrase, LocalAuthority authority, NetworkConfiguration told, IConfiguration configuration, ILogger<HomeNetwork> log) : IHostedLifecycleService
{
    /// <summary>Moves the port: on the command line <c>--network-port</c>.</summary>
    public const string PortSetting = "network-port";

    /// <summary>Names the router gives this machine, apart by semicolons: on the command line <c>--network-names</c>.</summary>
    public const string NamesSetting = "network-names";

    private readonly SemaphoreSlim _switching = new(1, 1);

    public int Port => configuration.GetValue(PortSetting, 5211);
    public bool IsOn => store.Now.NetworkOn;

    /// <summary>Whether it answers: another program may hold the port.</summary>
    public bool Listening { get; private set; }

    /// <summary>The authority was made by the last switching on: phones have to trust it first.</summary>
    public bool NewAuthority { get; private set; }

    /// <summary>Where a phone finds the bench, best first.</summary>
    public IReadOnlyList<string> Addresses =>
        [.. Names().Where(name => name != "localhost").Concat(HomeAddresses().Where(address => !IPAddress.IsLoopback(address)).Select(Written)).Select(host => $"https://{host}:{Port}/")];

    /// <summary>Switches it on. Refused without a passphrase.</summary>
    public async Task<bool> SwitchOnAsync(CancellationToken cancel = default)
    {
        if (!passphrase.IsSet)
            return false;
        NewAuthority = authority.Prepare(Names(), HomeAddresses());
        store.Change(access => access with { NetworkOn = true });
        await ApplyAsync(cancel);
        return true;
    }

    public async Task SwitchOffAsync(CancellationToken cancel = default)
    {
        store.Change(access => access with { NetworkOn = false });
        await ApplyAsync(cancel);
    }

    public Task StartedAsync(CancellationToken cancellationToken) => ApplyAsync(cancellationToken);

    private async Task ApplyAsync(CancellationToken cancel)
    {
        await _switching.WaitAsync(cancel);
        try
        {
            var access = store.Now;
            if (!access.NetworkOn || access.PassphraseHash is null)
            {
                told.Tell(new Dictionary<string, string?>());
                Listening = false;
                return;
            }

            // At a later start: a certificate near its end is renewed, and names or addresses may have changed.
            NewAuthority |= authority.Prepare(Names(), HomeAddresses());
            told.Tell(new Dictionary<string, string?>
            {
                ["Kestrel:Endpoints:Network:Url"] = $"https://*:{Port}",
                ["Kestrel:Endpoints:Network:Certificate:Path"] = authority.ServerCertificateFile,
                ["Kestrel:Endpoints:Network:Certificate:KeyPath"] = authority.ServerKeyFile,
                ["AllowedHosts"] = string.Join(';', [Defaults.Hosts, .. Names(), .. HomeAddresses().Select(Written)]),
            });
            Listening = await AnswersAsync(Port, cancel);
            if (!Listening)
                PortTaken(log, Port);
        }
        finally
        {
            _switching.Release();
        }
    }

    /// <summary>This machine's names on the network; the first is the one to use.</summary>
    private List<string> Names()
    {
        var machine = Environment.MachineName.ToLowerInvariant();
        var given = (configuration[NamesSetting] ?? "").Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(name => name.ToLowerInvariant());
        return [.. given.Concat(IsName(machine) ? [machine + ".local", machine] : []).Append("localhost").Distinct()];
    }

    private static bool IsName(string name) => Uri.CheckHostName(name) == UriHostNameType.Dns;

    private static List<IPAddress> HomeAddresses() =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces().Where(card => card.OperationalStatus == OperationalStatus.Up)
            .SelectMany(card => card.GetIPProperties().UnicastAddresses).Select(unicast => unicast.Address)
            // A link-local IPv6 address needs its card's name, which no certificate and no browser takes.
            .Where(address => LocalAuthority.IsHome(address) && !address.IsIPv6LinkLocal)
            .Distinct().OrderBy(address => address.AddressFamily).ThenBy(address => address.ToString(), StringComparer.Ordinal),
    ];

    private static string Written(IPAddress address) => address.AddressFamily == AddressFamily.InterNetworkV6 ? $"[{address}]" : address.ToString();

    // Kestrel follows its configuration in the background; a connection tells when it has.
    private static async Task<bool> AnswersAsync(int port, CancellationToken cancel)
    {
        for (var i = 0; i < 50; i++)
        {
            try
            {
                using var client = new TcpClient();
                await client.ConnectAsync(IPAddress.Loopback, port, cancel);
                return true;
            }
            catch (SocketException)
            {
                await Task.Delay(100, cancel);
            }
        }

        return false;
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StartingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    [LoggerMessage(Level = LogLevel.Error, Message = "The home network is switched on, but port {Port} does not answer: another program may hold it. Start with --network-port and another number.")]
    private static partial void PortTaken(ILogger log, int port);
}
