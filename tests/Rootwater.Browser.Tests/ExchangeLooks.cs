using System.Text;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The page for what goes out and comes in: as it opens, with a file shown, with a file that cannot be, and written.</summary>
public sealed class ExchangeLooks(Browsers browsers, DemoProgram program) : IClassFixture<DemoProgram>
{
    private const string Good = "Tag;When;text\r\n1;2026-01-05;new roots at the back\r\n2;2026-01-06;a bud\r\n";
    private const string Bad = "Tag;When;text\r\n1;2026-01-05;=HYPERLINK(1)\r\n999;someday;who\r\n";

    [Theory]
    [InlineData("open")]
    [InlineData("shown")]
    [InlineData("in the way")]
    public async Task A_page_is_accessible_legible_and_inside_its_width(string what)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/exchange");
        if (what != "open")
        {
            await UploadAsync(page, what == "shown" ? Good : Bad);
        }

        await Looks.JudgeBothAsync(page, $"exchange-{what.Replace(' ', '-')}");
    }

    [Fact]
    public async Task A_file_is_mapped_shown_and_written()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/exchange");
        await UploadAsync(page, Good);
        await page.GetByRole(AriaRole.Button, new() { Name = "Write 2 facts" }).ClickAsync();
        await page.GetByText("2 facts were written.").WaitForAsync();
        await page.GoAsync("/plants/1");
        (await page.ContentAsync()).ShouldContain("new roots at the back");
    }

    // The heading "Tag" is like no field: the mapping step is what makes it a plant.
    private static async Task UploadAsync(IPage page, string csv)
    {
        await page.GetByLabel("What the rows are").SelectOptionAsync("plant.noted");
        // A file put in before the page is tied to its circuit would be seen by nobody.
        await page.Locator("#file:not([disabled])").WaitForAsync();
        await page.GetByLabel("CSV file").SetInputFilesAsync(new FilePayload { Name = "notes.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(csv) });
        await page.GetByLabel("plantId", new() { Exact = true }).SelectOptionAsync("Tag");
        await page.GetByRole(AriaRole.Button, new() { Name = "Show what it would do" }).ClickAsync();
        await page.Locator("h3", new() { HasTextRegex = new("Would add|In the way") }).WaitForAsync();
    }
}
