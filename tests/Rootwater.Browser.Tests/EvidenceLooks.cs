namespace Rootwater.Browser.Tests;

/// <summary>The whole program with the demo's six years in a database of its own.</summary>
public sealed class SixYearsProgram : IDisposable
{
    private readonly WebProgram _program = new(demo: "six-years");
    private readonly Lazy<string> _address;

    public SixYearsProgram() => _address = new(() => _program.Serve());

    public string Address => _address.Value;

    public void Dispose() => _program.Dispose();
}

/// <summary>What six years teach, on a phone and a laptop, in light and dark: evidence, trials, causes, what was tried, cans and pens.</summary>
public sealed class EvidenceLooks(Browsers browsers, SixYearsProgram program) : IClassFixture<SixYearsProgram>
{
    private const float FirstReading = 60_000; // Six years of lives are read by whichever page comes first.

    [Theory]
    [InlineData("/evidence?ask=drivers")]
    [InlineData("/evidence?ask=growth")]
    [InlineData("/plants/17/evidence")]
    [InlineData("/plants/17/tried")]
    [InlineData("/plants/33/causes")]
    [InlineData("/trials")]
    [InlineData("/trials/new")]
    [InlineData("trial")]
    [InlineData("can")]
    [InlineData("/pens")]
    [InlineData("/year")]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        page.SetDefaultNavigationTimeout(FirstReading);
        switch (what)
        {
            case "trial":
                await page.GoAsync("/trials");
                await page.Locator("main a[href^='/trials/']:not([href='/trials/new'])").Last.ClickAsync();
                await page.Locator("h1").WaitForAsync();
                break;
            case "can":
                await page.GoAsync("/cans");
                await page.Locator("main a[href^='/cans/']").First.ClickAsync();
                await page.Locator("h1").WaitForAsync();
                break;
            default:
                await page.GoAsync(what);
                break;
        }

        await Looks.JudgeBothAsync(page, "six-years-" + System.Text.RegularExpressions.Regex.Replace(what, "[^A-Za-z0-9]+", "_").Trim('_'));
    }
}
