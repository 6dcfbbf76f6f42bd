using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The pages of the bench with invented lives, on a phone and a laptop, in light and dark, with every sheet opened.</summary>
public sealed class BenchLooks(Browsers browsers, FixtureProgram program) : IClassFixture<FixtureProgram>
{
    public static TheoryData<string> Pages => ["/bench", "/bench?view=table", "/bench?words=den&lost=true", "more", "/plants/17", "/plants/14", "/plants/18", "leaf sheet", "menu", "spike sheet", "refused", "/plants/new", "/plants/17/facts", "/plants/17/forget", "/readings?plant=17", "reading sheet", "/readings/logger", "/year", "/cans", "/pens", "/causes", "/settings"];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await GoAsync(page, what);
        await Looks.JudgeBothAsync(page, Name(what));
    }

    private static async Task GoAsync(IPage page, string what)
    {
        switch (what)
        {
            case "more":
                await page.GoAsync("/bench");
                await page.EvaluateAsync("document.querySelectorAll('[data-more]').forEach(each => each.open = true)");
                break;
            case "leaf sheet":
                await page.GoAsync("/plants/14");
                await page.GetByRole(AriaRole.Button, new() { Name = "bulb 3, leaf 1, yellowing" }).ClickAsync();
                await page.Locator("dialog.entry[open]").WaitForAsync();
                break;
            case "menu":
                await MenuAsync(page);
                break;
            case "spike sheet":
                await MenuAsync(page);
                await page.GetByRole(AriaRole.Button, new() { Name = "Spike, buds, flowers" }).ClickAsync();
                await page.GetByLabel("Buds", new() { Exact = true }).WaitForAsync();
                break;
            case "/plants/17/forget":
                await page.GotoAsync(what);
                await page.Locator("#sure:enabled").WaitForAsync();
                break;
            case "reading sheet":
                await page.GoAsync("/readings");
                await page.GetByRole(AriaRole.Button, new() { Name = "Read a pot" }).ClickAsync();
                await page.Locator("dialog.entry[open]").WaitForAsync();
                break;
            case "refused":
                await MenuAsync(page);
                await page.GetByRole(AriaRole.Button, new() { Name = "Repotted" }).ClickAsync();
                await page.GetByLabel("Medium", new() { Exact = true }).FillAsync("");
                await page.GetByLabel("Poured at one feed").FillAsync("much");
                await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
                await page.Locator("dialog .wrong").First.WaitForAsync();
                break;
            default:
                await page.GoAsync(what);
                break;
        }
    }

    private static async Task MenuAsync(IPage page)
    {
        await page.GoAsync("/plants/17");
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter…" }).ClickAsync();
        await page.Locator("dialog.entry[open]").WaitForAsync();
    }

    private static string Name(string what) => System.Text.RegularExpressions.Regex.Replace(what, "[^A-Za-z0-9]+", "_");
}
