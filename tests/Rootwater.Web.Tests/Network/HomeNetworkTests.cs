using System.Net;
using System.Net.NetworkInformation;
using System.Net.Security;
using System.Net.Sockets;
using System.Security.Cryptography.X509Certificates;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Extensions.DependencyInjection;
using Rootwater.Web.Network;

namespace Rootwater.Web.Tests.Network;

/// <summary>The whole program behind real sockets: who gets in from where, before and after the home network is on.</summary>
public sealed partial class HomeNetworkTests : IDisposable
{
    private const string Name = "leanto.home.arpa", Secret = "four wet roots walking";

    private readonly int _port = FreePort.Take();
    private readonly WebApplicationFactory<Program> _program;
    private readonly HttpClient _here;

    public HomeNetworkTests()
    {
        _program = new WebProgram(_ => { }).WithWebHostBuilder(builder => builder.UseSetting(HomeNetwork.PortSetting, _port.ToString(System.Globalization.CultureInfo.InvariantCulture)).UseSetting(HomeNetwork.NamesSetting, Name));
        _program.UseKestrel(0);
        _program.StartServer();
        _here = Here();
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private Uri Local => new($"http://127.0.0.1:{_program.ClientOptions.BaseAddress.Port}");

    private HttpClient Here() => new(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Local };

    /// <summary>A phone: it trusts the bench's authority and nobody else, and knows the bench by its name.</summary>
    private HttpClient Phone(CookieContainer? jar = null)
    {
        var authority = X509CertificateLoader.LoadCertificate(_program.Services.GetRequiredService<LocalAuthority>().Certificate!);
        return new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false,
            CookieContainer = jar ?? new CookieContainer(),
            ConnectCallback = async (_, cancel) =>
            {
                var socket = new Socket(SocketType.Stream, ProtocolType.Tcp);
                await socket.ConnectAsync(IPAddress.Loopback, _port, cancel);
                return new NetworkStream(socket, ownsSocket: true);
            },
            SslOptions = new SslClientAuthenticationOptions
            {
                CertificateChainPolicy = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, CustomTrustStore = { authority }, RevocationMode = X509RevocationMode.NoCheck },
            },
        })
        { BaseAddress = new Uri($"https://{Name}:{_port}") };
    }

    private static async Task<HttpResponseMessage> PostAsync(HttpClient client, string page, string path, params (string Key, string Value)[] fields)
    {
        var html = await client.GetStringAsync(page, Cancel);
        var token = Token().Match(html).Groups[1].Value;
        return await client.PostAsync(path, new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Key, field.Value)).Append(new("__RequestVerificationToken", token))), Cancel);
    }

    private async Task SwitchOnAsync()
    {
        await PostAsync(_here, "/network", "/network/passphrase", ("passphrase", Secret), ("again", Secret));
        var on = await PostAsync(_here, "/network", "/network/on");
        on.Headers.Location!.OriginalString.ShouldBe("/network?said=SaidOn");
    }

    private static async Task<HttpResponseMessage> SignInAsync(HttpClient phone, string passphrase = Secret, string back = "/cupboard") =>
        await PostAsync(phone, "/signin", "/signin", ("passphrase", passphrase), ("back", back));

    private IPEndPoint[] Listening() => [.. IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners().Where(end => end.Port == _port || end.Port == Local.Port)];

    [Fact]
    public async Task Before_a_passphrase_nothing_listens_beyond_this_machine_and_the_switch_refuses()
    {
        Listening().ShouldAllBe(end => IPAddress.IsLoopback(end.Address));
        Listening().ShouldNotContain(end => end.Port == _port);
        var refused = await PostAsync(_here, "/network", "/network/on");
        refused.Headers.Location!.OriginalString.ShouldBe("/network?wrong=WrongUnset");
        Listening().ShouldNotContain(end => end.Port == _port);
    }

    [Fact]
    public async Task Switched_on_it_listens_with_https_and_switched_off_no_more()
    {
        await SwitchOnAsync();
        Listening().ShouldContain(end => end.Port == _port);
        Listening().Where(end => end.Port == Local.Port).ShouldAllBe(end => IPAddress.IsLoopback(end.Address), "plain HTTP stays on this machine");
        await PostAsync(_here, "/network", "/network/off");
        for (var i = 0; i < 100 && Listening().Any(end => end.Port == _port); i++)
            await Task.Delay(100, Cancel);
        Listening().ShouldNotContain(end => end.Port == _port);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/cupboard")]
    [InlineData("/network")]
    [InlineData("/round")]
    public async Task From_the_network_a_page_asks_to_sign_in_first(string path)
    {
        await SwitchOnAsync();
        var answer = await Phone().GetAsync(path, Cancel);
        answer.StatusCode.ShouldBe(HttpStatusCode.Redirect);
        answer.Headers.Location!.OriginalString.ShouldBe("/signin?back=" + Uri.EscapeDataString(path));
        answer.Headers.CacheControl!.NoStore.ShouldBeTrue();
    }

    [Theory]
    [InlineData("GET", "/api/products")]
    [InlineData("GET", "/api/health")]
    [InlineData("POST", "/api/facts")]
    [InlineData("POST", "/_blazor/negotiate")]
    [InlineData("POST", "/network/signout-everywhere")]
    public async Task From_the_network_the_api_and_the_circuit_are_shut(string method, string path)
    {
        await SwitchOnAsync();
        (await Phone().SendAsync(new HttpRequestMessage(new HttpMethod(method), path), Cancel)).StatusCode.ShouldBe(HttpStatusCode.Unauthorized);
    }

    [Fact]
    public async Task Signed_in_the_bench_opens_and_its_cookie_is_strict()
    {
        await SwitchOnAsync();
        var phone = Phone();
        var signedIn = await SignInAsync(phone);
        signedIn.Headers.Location!.OriginalString.ShouldBe("/cupboard");
        var cookie = signedIn.Headers.GetValues("Set-Cookie").Single(each => each.StartsWith("__Host-rootwater=", StringComparison.Ordinal)).ToLowerInvariant();
        cookie.ShouldContain("; secure");
        cookie.ShouldContain("; httponly");
        cookie.ShouldContain("; samesite=strict");
        cookie.ShouldContain("; path=/");
        cookie.ShouldNotContain("domain=");
        (await phone.GetAsync("/cupboard", Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
        (await phone.GetAsync("/api/products", Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
    }

    [Fact]
    public async Task Signed_in_over_the_network_nobody_changes_the_lock()
    {
        await SwitchOnAsync();
        var phone = Phone();
        await SignInAsync(phone);
        foreach (var path in new[] { "/network/passphrase", "/network/off", "/network/on" })
            (await PostAsync(phone, "/network", path, ("passphrase", "another long passphrase"), ("again", "another long passphrase"))).StatusCode.ShouldBe(HttpStatusCode.Forbidden);
        (await phone.GetStringAsync("/network", Cancel)).ShouldNotContain("action=\"/network/passphrase\"");
        (await SignInAsync(Phone())).Headers.Location!.OriginalString.ShouldBe("/cupboard", "the old passphrase still opens");
    }

    [Fact]
    public async Task Wrong_guesses_lock_the_network_out_but_never_this_machine()
    {
        await SwitchOnAsync();
        var phone = Phone();
        for (var i = 0; i < Passphrase.FreeGuesses; i++)
            (await SignInAsync(phone, "a wrong passphrase")).Headers.Location!.OriginalString.ShouldStartWith("/signin?wrong=true");
        var locked = await SignInAsync(Phone());
        locked.Headers.Location!.OriginalString.ShouldContain("&wait=");
        locked.Headers.Contains("Set-Cookie").ShouldBeFalse();
        (await _here.GetAsync("/cupboard", Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
    }

    [Fact]
    public async Task A_calendar_program_reads_the_calendar_by_its_key_and_nothing_else()
    {
        await SwitchOnAsync();
        var store = _program.Services.GetRequiredService<AccessStore>();
        var address = CalendarFeedAddress.Of(store);
        var calendar = await Phone().GetAsync(address, Cancel);
        calendar.StatusCode.ShouldBe(HttpStatusCode.OK);
        calendar.Content.Headers.ContentType!.MediaType.ShouldBe("text/calendar");
        Ical.Net.Calendar.Load(await calendar.Content.ReadAsStringAsync(Cancel)).ShouldNotBeNull();

        (await Phone().GetAsync("/calendar.ics", Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect);
        (await Phone().GetAsync("/calendar/0123456789abcdef0123456789abcdef.ics", Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect);
        (await Phone().GetAsync(address + "/../../bench", Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect);
        store.NewCalendarKey();
        (await Phone().GetAsync(address, Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect, "the old address leads nowhere once there is a new one");
    }

    [Fact]
    public async Task Signing_out_everywhere_ends_every_sign_in()
    {
        await SwitchOnAsync();
        var (first, second) = (Phone(), Phone());
        await SignInAsync(first);
        await SignInAsync(second);
        await PostAsync(first, "/network", "/network/signout-everywhere");
        (await second.GetAsync("/cupboard", Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect);
    }

    [Fact]
    public async Task A_sign_in_without_its_token_is_refused_and_is_no_guess()
    {
        await SwitchOnAsync();
        var answer = await Phone().PostAsync("/signin", new FormUrlEncodedContent([new("passphrase", Secret)]), Cancel);
        answer.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        _program.Services.GetRequiredService<AccessStore>().Now.WrongGuesses.ShouldBe(0);
    }

    [Theory]
    [InlineData("//elsewhere.example/")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("https://elsewhere.example/")]
    [InlineData("/signin")]
    public async Task Signing_in_leads_back_into_the_program_alone(string back)
    {
        await SwitchOnAsync();
        (await SignInAsync(Phone(), back: back)).Headers.Location!.OriginalString.ShouldBe("/");
    }

    [Fact]
    public async Task A_name_that_is_not_this_machines_gets_no_answer_not_even_from_this_machine()
    {
        await SwitchOnAsync();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/signin") { Headers = { Host = "elsewhere.example" } };
        (await Here().SendAsync(request, Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        using var local = new HttpRequestMessage(HttpMethod.Get, "/cupboard") { Headers = { Host = Name } };
        (await Here().SendAsync(local, Cancel)).StatusCode.ShouldBe(HttpStatusCode.Redirect, "the network's name over plain HTTP opens nothing");
    }

    [Fact]
    public async Task The_certificate_can_be_fetched_before_signing_in()
    {
        await SwitchOnAsync();
        var answer = await Phone().GetAsync("/network/authority.crt", Cancel);
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("application/x-x509-ca-cert");
        (await answer.Content.ReadAsByteArrayAsync(Cancel)).ShouldBe(_program.Services.GetRequiredService<LocalAuthority>().Certificate);
    }

    public void Dispose() => _program.Dispose();

    [GeneratedRegex("__RequestVerificationToken\" value=\"([^\"]+)")]
    private static partial Regex Token();
}
