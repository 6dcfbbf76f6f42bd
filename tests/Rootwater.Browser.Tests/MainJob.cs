using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>What a grower does on a phone: home, mixing, a plan, the card step by step, the pens, a repair; and it is all there after a reload.</summary>
public sealed class MainJob(Browsers browsers, DemoProgram program) : IClassFixture<DemoProgram>
{
    [Fact]
    public async Task A_can_is_planned_mixed_read_put_right_and_kept()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GotoAsync("/");
        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^Mix for [0-9]+ plants?$") }).ClickAsync();
        await page.Locator(".choice").First.WaitForAsync();
        await page.LiveAsync();
        await page.Locator(".thumb .act").ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync(new Regex("^Mix (one can|[0-9]+ cans)$"), new() { Timeout = 40_000 });
        await page.Locator(".thumb .act").First.ClickAsync();
        await page.CardOpenAsync();

        // Undo takes the last tick back, and only that.
        await Ways.TickAsync(page, 1);
        await Ways.TickAsync(page, 2);
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(page.Locator("#step-2")).Not.ToHaveClassAsync(new Regex("done"));
        await Assertions.Expect(page.Locator("#step-1")).ToHaveClassAsync(new Regex("done"));
        await Ways.TickAsync(page, 2);
        var steps = await page.Locator("li.step").CountAsync();
        for (var step = 3; step <= steps; step++)
            await Ways.TickAsync(page, step);

        // The pH pen reads 0.6 more than it should, typed with a comma; the EC pen agrees.
        var said = await page.Locator(".pen .big").AllInnerTextsAsync();
        var ec = Number(said[0]).ToString("0.00", CultureInfo.InvariantCulture);
        var pH = (Number(said[1]) + 0.6).ToString("0.0", CultureInfo.InvariantCulture);
        await Ways.ReadAsync(page, ec.Replace('.', ','), pH.Replace('.', ','));
        await Assertions.Expect(page.Locator("#verdict .tag").Nth(0)).ToContainTextAsync("agrees");
        await Assertions.Expect(page.Locator("#verdict .tag").Nth(1)).ToContainTextAsync("high");
        await Assertions.Expect(page.Locator("#verdict ol.checks li").First).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put this can right" }).ClickAsync();
        await Assertions.Expect(page.Locator("#verdict .mend .dose").First).ToBeVisibleAsync();

        await page.ReloadAsync();
        await page.LiveAsync();
        (await page.Locator("li.step.done").CountAsync()).ShouldBe(steps);
        await Assertions.Expect(page.Locator("#pens")).ToContainTextAsync($"EC {ec} mS/cm · pH {pH}");
        await Assertions.Expect(page.Locator("#verdict .tag").Nth(1)).ToContainTextAsync("high");
        await Assertions.Expect(page.Locator("#forecast-corrected")).ToContainTextAsync(new Regex("were off by: pH|No forecast of such pots was met"), new() { Timeout = 20_000 });

        // Read again after the repair: as it should be. Then it is poured, and taken back, and poured.
        var pens = await page.Locator(".pen .big").AllInnerTextsAsync();
        await page.Locator("#ec").FillAsync(Number(pens[0]).ToString(CultureInfo.InvariantCulture));
        await page.Locator("#ph").FillAsync(Number(pens[1]).ToString(CultureInfo.InvariantCulture));
        await page.Locator("#ph").PressAsync("Enter");
        await Assertions.Expect(page.Locator("#verdict .tag").Nth(1)).ToContainTextAsync("agrees");
        await page.GetByRole(AriaRole.Button, new() { Name = "Poured", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Not poured" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Poured", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".thumb a.act")).ToBeVisibleAsync();
    }

    private static double Number(string shown) => double.Parse(Regex.Match(shown, @"[\d.]+").Value, CultureInfo.InvariantCulture);
}
