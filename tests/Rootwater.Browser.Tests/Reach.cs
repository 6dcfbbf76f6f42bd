using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The card by keyboard alone, the theme that stays, what is loaded and from where.</summary>
public sealed class Reach(Browsers browsers, FixtureProgram program) : IClassFixture<FixtureProgram>
{
    /// <summary>What a first visit may load, compressed: the limit.</summary>
    private const int FirstLoadBytes = 400 * 1024;

    [Fact]
    public async Task The_skip_link_leads_to_the_page_itself()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Laptop);
        await page.GoAsync("/cupboard");
        await page.Keyboard.PressAsync("Tab");
        await Assertions.Expect(page.Locator(".skip")).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("main")).ToBeFocusedAsync();
        page.Url.ShouldEndWith("/cupboard#main");
    }

    [Fact]
    public async Task A_can_is_planned_ticked_and_read_by_keyboard_alone()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Laptop);
        await page.GoAsync("/mixing");
        await TabToAsync(page, ".thumb .act");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("h1", new() { HasTextRegex = new("^Mix (one|[0-9])") }).WaitForAsync();
        await TabToAsync(page, ".thumb .act");
        await page.Keyboard.PressAsync("Enter");
        await page.CardOpenAsync();
        await TabToAsync(page, "#step-1 .n");
        (await page.EvaluateAsync<string>("getComputedStyle(document.activeElement).outlineStyle")).ShouldBe("solid", "where the keyboard is must be seen");
        await page.Keyboard.PressAsync("Space");
        await page.Locator("#step-1.done").WaitForAsync();
        await TabToAsync(page, "#ec");
        await page.Keyboard.TypeAsync("0,02");
        await page.Keyboard.PressAsync("Enter");
        await page.GetByText("Read so far").WaitForAsync();
    }

    [Fact]
    public async Task The_theme_is_switched_without_a_round_trip_and_stays()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/");
        await page.GetByRole(AriaRole.Button, new() { Name = "Switch between light and dark" }).ClickAsync();
        await Assertions.Expect(page.Locator("html")).ToHaveAttributeAsync("data-theme", "dark");
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("html")).ToHaveAttributeAsync("data-theme", "dark");
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/mixing")]
    [InlineData("card")]
    [InlineData("/cupboard")]
    [InlineData("/cupboard/new")]
    [InlineData("/water")]
    [InlineData("/bench")]
    [InlineData("/plants/17")]
    [InlineData("/plants/new")]
    [InlineData("/readings")]
    [InlineData("/year")]
    public async Task A_first_visit_loads_little_and_nothing_from_elsewhere(string what)
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        var address = what;
        if (what == "card")
        {
            await Ways.CardAsync(page);
            address = new Uri(page.Url).AbsolutePath;
            page = await browsers.OpenAsync(program.Address, Screen.Phone);
        }

        var load = await FirstLoad.OfAsync(page, address);
        TestContext.Current.TestOutputHelper?.WriteLine($"{what}: {load}");

        load.Bytes.ShouldBeLessThanOrEqualTo(FirstLoadBytes);
        load.Bytes.ShouldBeGreaterThan(10_000, "a page this small means that nothing was counted");
        load.Authorities.ShouldBe([new Uri(program.Address).Authority]);
        load.Complaints.ShouldBeEmpty("the content security policy or a script complained");
    }

    [Fact]
    public async Task The_card_prints_with_its_doses_and_without_its_buttons()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Laptop);
        await Ways.CardAsync(page);
        await page.Locator("svg.plot").First.WaitForAsync();
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Ways.ShootAsync(page, "print");
        (await page.Locator(".thumb, .head nav, .acts, .icon").EvaluateAllAsync<bool>("all => all.some(each => each.checkVisibility())")).ShouldBeFalse();
        await Assertions.Expect(page.Locator("li.step .dose").First).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("svg.plot").First).ToBeVisibleAsync();
        (await page.EvaluateAsync<string>("getComputedStyle(document.body).backgroundColor")).ShouldBe("rgb(255, 255, 255)");
    }

    [Fact]
    public async Task The_screen_is_asked_to_stay_awake_while_a_can_is_mixed()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.AddInitScriptAsync("""
            window.asked = 0;
            Object.defineProperty(navigator, "wakeLock", { value: { request: async kind => { window.asked++; window.kind = kind; return { release: async () => { } }; } } });
            """);
        await Ways.CardAsync(page);
        await page.WaitForFunctionAsync("window.asked > 0 && window.kind === 'screen'");
    }

    private static async Task TabToAsync(IPage page, string selector)
    {
        for (var i = 0; i < 80; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>("selector => document.activeElement === document.querySelector(selector)", selector))
                return;
        }

        throw new ShouldAssertException($"{selector} cannot be reached by Tab");
    }
}
