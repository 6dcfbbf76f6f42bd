using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>How a grower gets to the places that are looked at.</summary>
internal static class Ways
{
    public static async Task ToAsync(IPage page, string what, Dictionary<string, string> cans)
    {
        if (cans.TryGetValue(what, out var kept))
        {
            await page.GoAsync(kept);
            await page.CardOpenAsync();
            if (what == "read")
                await AskRepairAsync(page);
            return;
        }

        switch (what)
        {
            case "plan":
                await PlanAsync(page);
                break;
            case "card":
                await CardAsync(page);
                await TickAsync(page, 1);
                break;
            case "read":
                await CardAsync(page);
                await TickAllAsync(page);
                await ReadAsync(page, "0,31", "7,4");
                await AskRepairAsync(page);
                break;
            case "poured":
                await CardAsync(page);
                await TickAllAsync(page);
                await page.GetByRole(AriaRole.Button, new() { Name = "Poured", Exact = true }).ClickAsync();
                await page.Locator(".thumb a.act").WaitForAsync();
                break;
            case "product":
                await page.GoAsync("/cupboard");
                await page.Locator("main a.line").First.ClickAsync();
                await page.Locator("h2", new() { HasText = "What it is" }).WaitForAsync();
                break;
            case "entry":
                await page.GoAsync("/cupboard/entries");
                if (await page.Locator("main a.line").CountAsync() == 0)
                {
                    // The short demo has none: begin one.
                    await page.GoAsync("/cupboard/new");
                    await page.GetByLabel("Name").FillAsync("house feed 15-5-15");
                    await page.Locator("#label").FillAsync("N 15 %\nnitrate nitrogen 14 %\nammoniacal nitrogen 1 %\nP2O5 5 %\nK2O 15 %");
                    await page.Locator(".thumb .act").First.ClickAsync();
                    await page.GetByRole(AriaRole.Button, new() { Name = "Let it in step by step" }).ClickAsync();
                }
                else
                {
                    await page.Locator("main a.line").First.ClickAsync();
                }

                await page.Locator("#unseen").WaitForAsync();
                break;
            case "without":
                await page.GoAsync("/cupboard");
                await page.Locator("main a.line", new() { HasText = "otassium nitrate" }).First.ClickAsync();
                await page.GetByRole(AriaRole.Link, new() { Name = "When it is out" }).ClickAsync();
                await page.Locator(".thumb .act:enabled").First.ClickAsync();
                await page.Locator("#result").WaitForAsync(new() { Timeout = 120_000 });
                break;
            case "compared":
                await page.GoAsync("/cupboard/compare");
                await page.Locator("#one").SelectOptionAsync(new SelectOptionValue { Label = "calcium nitrate 15.5-0-0 + 26.5 CaO" });
                await page.Locator("#other").SelectOptionAsync(new SelectOptionValue { Label = "potassium nitrate" });
                await page.Locator(".thumb .act:enabled").ClickAsync();
                await page.Locator("#compared").WaitForAsync();
                break;
            case "previewed":
                await page.GoAsync("/cupboard/new");
                await page.GetByLabel("Name").FillAsync("Bloom salt");
                await page.GetByLabel("What the label says").FillAsync("Total nitrogen (N) 9 % (nitrate 3 %, ammoniacal 6 %), P2O5 27 %, K2O 18 %");
                await page.GetByRole(AriaRole.Button, new() { Name = "Read it" }).ClickAsync();
                await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).WaitForAsync();
                break;
            case "water":
                await page.GoAsync("/water");
                await page.Locator("main h2 a").First.ClickAsync();
                await page.Locator("h2", new() { HasText = "Reports" }).WaitForAsync();
                break;
            case "report":
                await page.GoAsync("/water");
                await page.Locator("main .acts a").First.ClickAsync();
                await page.Locator("#v-KH").WaitForAsync();
                await page.LiveAsync();
                await page.GetByLabel("EC", new() { Exact = true }).FillAsync("0,56");
                await page.GetByLabel("GH, total hardness", new() { Exact = true }).FillAsync("14");
                await page.GetByLabel("KH, carbonate hardness", new() { Exact = true }).FillAsync("11");
                await page.GetByRole(AriaRole.Button, new() { Name = "Read it" }).ClickAsync();
                await page.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).WaitForAsync();
                break;
            case "lost":
                await page.GoAsync("/mixing");
                await page.EvaluateAsync("document.getElementById('components-reconnect-modal').showModal()");
                break;
            default:
                await page.GoAsync(what);
                break;
        }

        if (what is "card" or "read" or "poured")
            cans[what] = new Uri(page.Url).AbsolutePath;
    }

    private static async Task AskRepairAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Put this can right" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "Putting this can right" }).WaitForAsync();
    }

    public static async Task PlanAsync(IPage page)
    {
        await page.GoAsync("/mixing");
        await page.Locator(".thumb .act").ClickAsync();
        await page.Locator("h1", new() { HasTextRegex = new("^Mix (one can|[0-9]+ cans)") }).WaitForAsync(new() { Timeout = 40_000 });
    }

    public static async Task CardAsync(IPage page)
    {
        await PlanAsync(page);
        await page.Locator(".thumb .act").First.ClickAsync();
        await page.CardOpenAsync();
    }

    /// <summary>Waits for the card to be there and to answer. (Waiting for a navigation misses one that never leaves the document.)</summary>
    public static async Task CardOpenAsync(this IPage page)
    {
        await Assertions.Expect(page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex("/mixing/can/"), new() { Timeout = 15_000 });
        await page.Locator("li.step").First.WaitForAsync();
        await page.LiveAsync();
    }

    public static async Task TickAsync(IPage page, int step)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = $"Step {step} done", Exact = true }).ClickAsync();
        await page.Locator($"#step-{step}.done").WaitForAsync();
    }

    public static async Task TickAllAsync(IPage page)
    {
        var steps = await page.Locator("li.step").CountAsync();
        for (var step = 1; step <= steps; step++)
            await TickAsync(page, step);
    }

    public static async Task ReadAsync(IPage page, string ec, string pH)
    {
        await page.Locator("#ec").FillAsync(ec);
        await page.Locator("#ph").FillAsync(pH);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check readings" }).ClickAsync();
        await page.GetByText("Read so far").WaitForAsync();
    }

    /// <summary>Keeps a picture where ROOTWATER_SHOTS names a folder: looked at by people, not compared by machines.</summary>
    public static async Task ShootAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("ROOTWATER_SHOTS") is not { Length: > 0 } folder)
            return;
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = System.IO.Path.Combine(folder, name + ".png"), FullPage = true });
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = System.IO.Path.Combine(folder, name + ".fold.png") });
    }
}
