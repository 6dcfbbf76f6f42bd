using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>Every page, on a phone and a laptop, in light and dark, with data and everything that opens opened: accessible, inside its width, legible.</summary>
public sealed class Looks(Browsers browsers, DemoProgram program) : IClassFixture<DemoProgram>
{
    public static TheoryData<string> Pages => ["/", "/mixing", "plan", "card", "read", "/cupboard", "/cupboard/supply", "/cupboard/entries", "entry", "without", "compared", "/water/year", "product", "/cupboard/new", "previewed", "/water", "water", "report", "/water/new", "poured", "/nowhere", "lost"];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await Ways.ToAsync(page, what, program.Cans);
        if (what is "card" or "read" or "poured")
            await page.Locator("svg.plot").First.WaitForAsync();
        await JudgeBothAsync(page, what.Replace("/", "_", StringComparison.Ordinal));
    }

    /// <summary>All rules in the light; in the dark those that a theme can change, which are the ones about colours.</summary>
    internal static AxeRunOptions AxeFor(ColorScheme theme) => new()
    {
        RunOnly = theme == ColorScheme.Light
            ? new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] }
            : new RunOnlyOptions { Type = "rule", Values = ["color-contrast", "link-in-text-block"] },
    };

    /// <summary>As the phone shows it and then, widened, as a laptop does: the way to a page is walked once.</summary>
    internal static async Task JudgeBothAsync(IPage page, string name)
    {
        foreach (var screen in Enum.GetValues<Screen>())
        {
            var size = Browsers.SizeOf(screen);
            await page.SetViewportSizeAsync(size.Width, size.Height);
            await JudgeAsync(page, $"{name}-{screen}");
        }
    }

    // A page still grows while what was opened is laid out: at its end is where it has stood still for two frames.
    private const string ToTheEnd = """
        async () => {
          const frame = () => new Promise(done => requestAnimationFrame(done));
          for (let height = -1, still = 0; still < 2; await frame()) {
            still = document.body.scrollHeight === height ? still + 1 : 0;
            height = document.body.scrollHeight;
            scrollTo(0, height);
          }
        }
        """;

    /// <summary>Pictures in both themes; then everything that opens is opened, and judged in both.</summary>
    private static async Task JudgeAsync(IPage page, string name)
    {
        foreach (var theme in new[] { ColorScheme.Dark, ColorScheme.Light })
        {
            await page.EmulateMediaAsync(new() { ColorScheme = theme });
            await Ways.ShootAsync(page, $"{name}-{theme}");
        }

        // Everything that opens is opened; at the end of the page the actions at the thumb cover nothing.
        await page.EvaluateAsync("document.querySelectorAll('details:not([data-more])').forEach(each => { each.dataset.was = each.open; each.open = true; })");
        foreach (var theme in new[] { ColorScheme.Dark, ColorScheme.Light })
        {
            await page.EmulateMediaAsync(new() { ColorScheme = theme });
            await page.EvaluateAsync(ToTheEnd);
            var axe = await page.RunAxe(AxeFor(theme));
            axe.Violations.Where(violation => violation.Impact is "serious" or "critical")
                .Select(violation => $"{theme} {violation.Id}: {string.Join(" | ", violation.Nodes.Select(node => node.Html))}").ShouldBeEmpty();
        }

        (await page.Locator("main").CountAsync()).ShouldBe(1);
        (await page.Locator("h1").CountAsync()).ShouldBe(1);
        (await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth")).ShouldBeLessThanOrEqualTo(0, "the page scrolls sideways");
        var smallest = await page.EvaluateAsync<double?>("""
            (() => { const sizes = [...document.querySelectorAll('svg text')].filter(each => each.getClientRects().length).map(each =>
              parseFloat(getComputedStyle(each).fontSize) * each.ownerSVGElement.getScreenCTM().a); return sizes.length ? Math.min(...sizes) : null; })()
            """);
        if (smallest is { } pixels)
            pixels.ShouldBeGreaterThanOrEqualTo(11);
        var small = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('.act, .icon, nav.foot a, .step .n, .choice, summary, input:not([type=checkbox],[type=radio],[type=hidden]), select')]
              .filter(each => each.checkVisibility() && each.getBoundingClientRect().height < 47.5).map(each => each.outerHTML.slice(0, 120))
            """);
        small.ShouldBeEmpty("a target is under 48 px high");
        await page.EvaluateAsync("document.querySelectorAll('details[data-was]').forEach(each => each.open = each.dataset.was === 'true'); scrollTo(0, 0)");
    }
}
