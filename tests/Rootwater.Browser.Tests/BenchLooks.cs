using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The pages of the bench with invented lives, on a phone and a laptop, in light and dark, with every sheet opened.</summary>
public sealed class BenchLooks(Browsers browsers, FixtureProgram program) : IClassFixture<Browsers>, IClassFixture<FixtureProgram>
{
    public static TheoryData<string, Screen> Pages => new(
        from page in new[] { "/bench", "/bench?view=table", "/bench?words=den&lost=true", "more" }
        from screen in new[] { Screen.Phone, Screen.Laptop }
        select new TheoryDataRow<string, Screen>(page, screen));

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what, Screen screen)
    {
        var page = await browsers.OpenAsync(program.Address, screen);
        await GoAsync(page, what);
        await Looks.JudgeAsync(page, $"{Name(what)}-{screen}");
    }

    private static async Task GoAsync(IPage page, string what)
    {
        switch (what)
        {
            case "more":
                await page.GoAsync("/bench");
                await page.EvaluateAsync("document.querySelector('[data-more]').open = true");
                break;
            default:
                await page.GoAsync(what);
                break;
        }
    }

    private static string Name(string what) => System.Text.RegularExpressions.Regex.Replace(what, "[^A-Za-z0-9]+", "_");
}
