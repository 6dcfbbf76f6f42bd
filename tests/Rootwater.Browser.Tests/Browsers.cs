using System.Collections.Concurrent;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Rootwater.Browser.Tests.Browsers))]

namespace Rootwater.Browser.Tests;

/// <summary>One Chromium for all tests; where there is none they are skipped and say so.</summary>
public sealed class Browsers : IAsyncLifetime
{
    private static readonly string[] s_places = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    private IPlaywright? _playwright;
    private IBrowser? _browser;
    private readonly ConcurrentDictionary<string, ConcurrentBag<IBrowserContext>> _open = new();

    /// <summary>Of the Chromium that is installed; null where there is none.</summary>
    public static string? Path => Environment.GetEnvironmentVariable("ROOTWATER_CHROMIUM") is { Length: > 0 } named ? named : s_places.FirstOrDefault(File.Exists);

    public async ValueTask InitializeAsync()
    {
        if (Path is null)
            return;
        _playwright = await Playwright.CreateAsync();

        // What a page shows is asked here; how soon is for the benchmarks.
        Assertions.SetDefaultExpectTimeout(20_000);
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Path,
            Args = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>A page of its own, on a screen of a phone or of a laptop, in light or dark.</summary>
    public async Task<IPage> OpenAsync(string address, Screen screen, ColorScheme theme = ColorScheme.Light)
    {
        Assert.SkipWhen(_browser is null, "No Chromium on this machine (Debian: apt-get install chromium; or name one in ROOTWATER_CHROMIUM).");
        var context = await _browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = address,
            ColorScheme = theme,
            ViewportSize = SizeOf(screen),
            ReducedMotion = ReducedMotion.Reduce,
            HasTouch = screen == Screen.Phone,
        });
        context.SetDefaultTimeout(15_000);
        await LetGoAsync(context);
        return await context.NewPageAsync();
    }

    public static ViewportSize SizeOf(Screen screen) => screen == Screen.Phone ? new() { Width = 390, Height = 844 } : new() { Width = 1280, Height = 800 };

    // Tests of a class run one after the other: what an earlier one opened is looked at no more, and a page with its circuit is not free.
    private async Task LetGoAsync(IBrowserContext context)
    {
        var (ours, now) = (TestContext.Current.TestClass?.UniqueID ?? "", TestContext.Current.Test?.UniqueID ?? "");
        foreach (var (key, contexts) in _open.Where(pair => pair.Key.StartsWith(ours + "/", StringComparison.Ordinal) && pair.Key != $"{ours}/{now}").ToList())
        {
            _open.TryRemove(key, out _);
            foreach (var earlier in contexts)
                await earlier.CloseAsync();
        }

        _open.GetOrAdd($"{ours}/{now}", _ => []).Add(context);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }
}

/// <summary>The two sizes every page is looked at in.</summary>
public enum Screen
{
    Phone,
    Laptop,
}

/// <summary>The whole program on a free port of this machine, with the demo bench in a database of its own.</summary>
public sealed class DemoProgram : IDisposable
{
    private readonly WebProgram _program = new();
    private readonly Lazy<string> _address;

    /// <summary>Cans that were brought to a state for looking at, so that one plan serves every screen and theme.</summary>
    public Dictionary<string, string> Cans { get; } = [];

    public DemoProgram() => _address = new(() => _program.Serve());

    public string Address => _address.Value;

    public void Dispose() => _program.Dispose();
}

/// <summary>The program with an invented bench behind it, for what the demo does not show.</summary>
public sealed class FixtureProgram : IDisposable
{
    private readonly WebProgram _program;
    private readonly Lazy<string> _address;

    public FixtureProgram()
    {
        _program = WebProgram.On(Bench);
        _address = new(() => _program.Serve());
    }

    public FixtureBench Bench { get; } = new();

    public string Address => _address.Value;

    public void Dispose() => _program.Dispose();
}

internal static class Serving
{
    public static string Serve(this WebApplicationFactory<Program> program)
    {
        program.UseKestrel(0);
        program.StartServer();
        return program.ClientOptions.BaseAddress.ToString();
    }

    /// <summary>Waits until the page answers to clicks: what was drawn by the server is then tied to its circuit.</summary>
    public static async Task GoAsync(this IPage page, string path)
    {
        await page.GotoAsync(path);
        await page.LiveAsync();
    }

    public static async Task LiveAsync(this IPage page)
    {
        // Buttons of an interactive page are disabled until its circuit answers; pages without buttons need none.
        if (await page.Locator(".thumb button").CountAsync() > 0)
            await page.Locator(".thumb button:enabled").First.WaitForAsync();
    }
}
