using System.Diagnostics;
using System.Net;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The program as a process of its own, with the home network on, that can be stopped and started again on the same bench; and a phone that knows it by its name.</summary>
public sealed partial class RoundProgram : IAsyncDisposable
{
    public const string Name = "leanto.home.arpa", Secret = "four wet roots walking";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-walk-");
    private readonly int _local = FreePort.Take(), _network = FreePort.Take();
    private readonly CookieContainer _jar = new();
    private readonly HttpClient _here;
    private IPlaywright? _playwright;
    private Process? _process;

    public RoundProgram() => _here = new HttpClient(new SocketsHttpHandler { CookieContainer = _jar, AllowAutoRedirect = false }) { BaseAddress = new Uri($"http://127.0.0.1:{_local}"), Timeout = TimeSpan.FromSeconds(30) };

    public string Address => $"https://{Name}:{_network}";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private string Database => Path.Combine(_folder.FullName, "bench.db");

    public async Task StartAsync()
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var word in new[] { Path.Combine(AppContext.BaseDirectory, "Rootwater.Web.dll"), "--demo", "--urls", _here.BaseAddress!.ToString().TrimEnd('/'), "--database", Database, "--network-port", $"{_network}", "--network-names", Name })
            start.ArgumentList.Add(word);
        _process = Process.Start(start)!;
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        for (var i = 0; ; i++)
        {
            try
            {
                if ((await _here.GetAsync("/api/health", Cancel)).IsSuccessStatusCode)
                    break;
            }
            catch (HttpRequestException) when (i < 1200 && !_process.HasExited)
            {
                // Not yet there; a demo bench takes its time on a busy machine.
            }

            await Task.Delay(100, Cancel);
        }
    }

    /// <summary>As if the plug were pulled.</summary>
    public async Task StopAsync()
    {
        _process!.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync(Cancel);
        _process.Dispose();
        _process = null;
    }

    /// <summary>Sets the passphrase and switches the home network on, as a grower does on the machine itself.</summary>
    public async Task SwitchNetworkOnAsync()
    {
        await PostAsync("/network/passphrase", ("passphrase", Secret), ("again", Secret));
        (await PostAsync("/network/on")).ShouldBe("/network?said=SaidOn");
    }

    private async Task<string> PostAsync(string path, params (string Key, string Value)[] fields)
    {
        var token = Token().Match(await _here.GetStringAsync("/network", Cancel)).Groups[1].Value;
        var answer = await _here.PostAsync(path, new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Key, field.Value)).Append(new("__RequestVerificationToken", token))), Cancel);
        return answer.Headers.Location?.OriginalString ?? answer.StatusCode.ToString();
    }

    public async Task<JsonElement> GetAsync(string path) => await _here.GetFromJsonAsync<JsonElement>(path, Cancel);

    /// <summary>Facts as another device sends them.</summary>
    public async Task TellAsync(string device, object fact)
    {
        var answer = await _here.PostAsJsonAsync($"/api/facts?device={device}", new[] { fact }, Cancel);
        answer.IsSuccessStatusCode.ShouldBeTrue(await answer.Content.ReadAsStringAsync(Cancel));
    }

    public async Task PostFactsAsync(params object[] facts) => (await _here.PostAsJsonAsync("/api/facts", facts, Cancel)).EnsureSuccessStatusCode();

    /// <summary>A browser with a memory of its own: closed and opened again it is the same phone.</summary>
    public async Task<IBrowserContext> PhoneAsync(Screen screen = Screen.Phone)
    {
        Assert.SkipWhen(Browsers.Path is null, "No Chromium on this machine (Debian: apt-get install chromium; or name one in ROOTWATER_CHROMIUM).");
        _playwright ??= await Playwright.CreateAsync();
        // A service worker needs a certificate that is trusted. Only this very key is, nothing else that is wrong with a certificate is let pass.
        using var server = X509CertificateLoader.LoadCertificateFromFile(Path.Combine(Database + ".access", "server.crt"));
        var key = Convert.ToBase64String(SHA256.HashData(server.PublicKey.ExportSubjectPublicKeyInfo()));
        var context = await _playwright.Chromium.LaunchPersistentContextAsync(Path.Combine(_folder.FullName, "phone"), new BrowserTypeLaunchPersistentContextOptions
        {
            ExecutablePath = Browsers.Path,
            BaseURL = Address,
            ViewportSize = screen == Screen.Phone ? new ViewportSize { Width = 390, Height = 844 } : new ViewportSize { Width = 1280, Height = 800 },
            HasTouch = screen == Screen.Phone,
            ReducedMotion = ReducedMotion.Reduce,
            Args =
            [
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
                $"--host-resolver-rules=MAP {Name} 127.0.0.1", $"--ignore-certificate-errors-spki-list={key}",
            ],
        });
        context.SetDefaultTimeout(20_000);
        return context;
    }

    public static async Task SignInAsync(IPage page)
    {
        await page.GotoAsync("/round");
        await page.Locator("#passphrase").FillAsync(Secret);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.Locator("[data-do=seen]:enabled").WaitForAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (_process is not null)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync(CancellationToken.None);
            _process.Dispose();
        }

        _playwright?.Dispose();
        _here.Dispose();
        try
        {
            _folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // The browser may still be closing; the temporary folder is the system's to clear.
        }
    }

    [GeneratedRegex("__RequestVerificationToken\" value=\"([^\"]+)")]
    private static partial Regex Token();
}
