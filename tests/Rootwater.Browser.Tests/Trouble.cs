using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Rootwater.Ledger;

namespace Rootwater.Browser.Tests;

/// <summary>Wrong input, a plan that takes too long, a database that fails: a message at the place, with the way out, and never a stack trace.</summary>
public sealed class Trouble(Browsers browsers, FixtureProgram program) : IClassFixture<FixtureProgram>
{
    [Theory]
    [InlineData("#ec", "abc", "EC \"abc\": type the number the pen shows, such as 0.83 or 0,83.")]
    [InlineData("#ec", "1.234,5", "EC \"1.234,5\": type the number the pen shows, such as 0.83 or 0,83.")]
    [InlineData("#ec", "830", "EC \"830\": is far above any feed in mS/cm; if the pen shows µS/cm, type 0.83.")]
    [InlineData("#ph", "58", "pH \"58\": must lie between 0 and 14; if the pen shows 5.8, type that.")]
    public async Task A_wrong_reading_is_refused_at_its_field_and_nothing_is_kept(string field, string typed, string message)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await Ways.CardAsync(page);
        await page.Locator(field).FillAsync(typed);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save and check readings" }).ClickAsync();
        await Assertions.Expect(page.Locator(field + "-wrong")).ToHaveTextAsync(message);
        await Assertions.Expect(page.Locator(field)).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.Locator(field)).ToHaveValueAsync(typed);
        await Assertions.Expect(page.GetByText("Read so far")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_long_plan_shows_progress_and_can_be_cancelled()
    {
        program.Bench.PlanTakes = TimeSpan.FromMinutes(5);
        try
        {
            var page = await browsers.OpenAsync(program.Address, Screen.Phone);
            await page.GoAsync("/mixing");
            await page.Locator(".thumb .act").ClickAsync();
            await Assertions.Expect(page.Locator("progress[value]")).ToBeVisibleAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Cancel" }).ClickAsync();
            await Assertions.Expect(page.GetByText("Nothing was saved; your choices are as you left them.")).ToBeVisibleAsync();
            await Assertions.Expect(page.Locator(".thumb .act")).ToHaveTextAsync(new Regex("^Plan for"));
        }
        finally
        {
            program.Bench.PlanTakes = TimeSpan.FromMilliseconds(300);
        }
    }

    [Fact]
    public async Task A_database_that_fails_is_named_and_the_page_goes_on_when_it_is_back()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await Ways.CardAsync(page);
        program.Bench.Fault = new LedgerProblem(LedgerFault.DiskFull, "The disk that holds bench.db is full. Make room, then try again; nothing was half-saved.");
        try
        {
            await page.GetByRole(AriaRole.Button, new() { Name = "Step 1 done", Exact = true }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("The disk that holds bench.db is full.");
            await Assertions.Expect(page.Locator("#step-1")).Not.ToHaveClassAsync(new Regex("done"));
        }
        finally
        {
            program.Bench.Fault = null;
        }

        await Ways.TickAsync(page, 1);
    }

    [Fact]
    public async Task A_fault_nobody_foresaw_is_a_sentence_and_not_a_stack_trace()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await Ways.CardAsync(page);
        program.Bench.Fault = new InvalidOperationException("inner workings");
        try
        {
            await page.GetByRole(AriaRole.Button, new() { Name = "Step 1 done", Exact = true }).ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Alert).First).ToContainTextAsync("Nothing of it was saved. Try again");
            (await page.ContentAsync()).ShouldNotContain("inner workings");
        }
        finally
        {
            program.Bench.Fault = null;
        }
    }

    [Fact]
    public async Task A_new_product_names_every_field_that_is_wrong_and_keeps_what_was_typed()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Laptop);
        await page.GoAsync("/cupboard/new");
        await page.GetByText("A single salt, by formula").ClickAsync();
        await page.GetByLabel("Purity, % by weight").FillAsync("120");
        await page.GetByLabel("Density, kg/L").FillAsync("heavy");
        await page.GetByRole(AriaRole.Button, new() { Name = "Read it" }).ClickAsync();
        await Assertions.Expect(page.Locator("#name-wrong")).ToContainTextAsync("give it a name");
        await Assertions.Expect(page.Locator("#formula-wrong")).ToContainTextAsync("type a formula");
        await Assertions.Expect(page.Locator("#percent-wrong")).ToContainTextAsync("percent \"120\": type a percentage by weight");
        await Assertions.Expect(page.Locator("#density-wrong")).ToContainTextAsync("density \"heavy\"");
        await Assertions.Expect(page.GetByLabel("Density, kg/L")).ToHaveValueAsync("heavy");
    }

    [Fact]
    public async Task A_water_report_with_words_for_numbers_is_refused_at_the_field()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/water");
        await page.Locator("main .acts a").First.ClickAsync();
        await page.Locator("#v-KH").WaitForAsync();
        await page.LiveAsync();
        await page.GetByLabel("KH, carbonate hardness", new() { Exact = true }).FillAsync("hard");
        await page.GetByRole(AriaRole.Button, new() { Name = "Read it" }).ClickAsync();
        await Assertions.Expect(page.Locator("#v-KH-wrong")).ToContainTextAsync("type a number such as 4.1 or 4,1");
    }
}
