using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>What a grower does on a phone: home, mixing, a plan, the card step by step, the pens, a repair; and it is all there after a reload.</summary>
public sealed class MainJob(Browsers browsers, DemoProgram program) : IClassFixture<Browsers>, IClassFixture<DemoProgram>
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

        // The pen reads half of what it should, typed with a comma.
        var expected = double.Parse(Regex.Match(await page.Locator(".pen .big").First.InnerTextAsync(), @"[\d.]+").Value, System.Globalization.CultureInfo.InvariantCulture);
        var half = (expected / 2).ToString("0.00", System.Globalization.CultureInfo.InvariantCulture);
        await Ways.ReadAsync(page, half.Replace('.', ','), "6,3");
        await Assertions.Expect(page.Locator("#verdict .tag").First).ToContainTextAsync("low");
        await Assertions.Expect(page.Locator("#verdict ol.checks li").First).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Put this can right" }).ClickAsync();
        await Assertions.Expect(page.Locator("#verdict .mend .dose").First).ToBeVisibleAsync();

        await page.ReloadAsync();
        await page.LiveAsync();
        (await page.Locator("li.step.done").CountAsync()).ShouldBe(steps);
        await Assertions.Expect(page.Locator("#pens")).ToContainTextAsync($"EC {half} mS/cm · pH 6.3");
        await Assertions.Expect(page.Locator("#verdict .tag").First).ToContainTextAsync("low");

        // Read again after the repair: as it should be. Then it is poured, and taken back, and poured.
        var pens = await page.Locator(".pen .big").AllInnerTextsAsync();
        await page.Locator("#ec").FillAsync(Regex.Match(pens[0], @"[\d.]+").Value);
        await page.Locator("#ph").FillAsync(Regex.Match(pens[1], @"[\d.]+").Value);
        await page.Locator("#ph").PressAsync("Enter");
        await Assertions.Expect(page.Locator("#verdict .tag").First).ToContainTextAsync("agrees");
        await page.GetByRole(AriaRole.Button, new() { Name = "Poured", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Not poured" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Poured", Exact = true }).ClickAsync();
        await Assertions.Expect(page.Locator(".thumb a.act")).ToBeVisibleAsync();
    }
}
