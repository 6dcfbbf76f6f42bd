using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>What a grower does with a plant, on the real ledger: it arrives, a leaf is tapped, a wrong entry is taken back, another put right, it is divided, and one day forgotten.</summary>
public sealed class PlantJob(Browsers browsers, DemoProgram program) : IClassFixture<DemoProgram>
{
    [Fact]
    public async Task A_plant_arrives_is_followed_put_right_divided_and_forgotten()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        page.SetDefaultTimeout(30_000);

        // Refused first: every field that is wrong is named, and nothing is kept.
        await page.GoAsync("/plants/new");
        var number = await page.Locator("#number").InputValueAsync();
        await page.Locator("#price").FillAsync("much");
        await Button(page, "Keep this plant").ClickAsync();
        await Assertions.Expect(page.Locator(".wrong")).ToContainTextAsync(["name as received", "kind", "price \"much\""]);
        await page.GetByLabel("Name as received").FillAsync("Cattleya walkeriana 'Quay'");
        await page.GetByLabel("Kind", new() { Exact = true }).FillAsync("unifoliate Cattleya");
        await page.Locator("#price").FillAsync("18,50");
        await page.GetByLabel("Currency").FillAsync("eur");
        await page.GetByLabel("Its leaves").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "One more growth" }).ClickAsync();
        await page.GetByLabel("Its leaves").Nth(1).FillAsync("1");
        await Button(page, "Keep this plant").ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex($"/plants/{number}$"));
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("Cattleya walkeriana 'Quay'");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("18.50 EUR");
        await page.LiveAsync();

        // A leaf is tapped; what was seen stands on the drawing and in the time line, after a reload too.
        await Part(page, "bulb 1, leaf 2").ClickAsync();
        await page.GetByLabel("What is to be seen").SelectOptionAsync("Yellowing");
        await page.GetByLabel("Where on the leaf").SelectOptionAsync("Tip");
        await page.GetByLabel("Length (cm)").FillAsync("14,5");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(Part(page, "bulb 1, leaf 2, yellowing")).ToBeVisibleAsync();
        await page.ReloadAsync();
        await page.LiveAsync();
        await Assertions.Expect(Part(page, "bulb 1, leaf 2, yellowing")).ToBeVisibleAsync();
        await page.Locator("#life summary").ClickAsync();
        await Assertions.Expect(page.Locator("#life table").First).ToContainTextAsync("yellowing, the tip");
        await Assertions.Expect(page.Locator("#life table").First).ToContainTextAsync("14.5 × ?");

        // By keyboard: the other leaf is lost, which was wrong; undo brings it back.
        await Part(page, "bulb 2, leaf 1").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.GetByLabel("The leaf is gone, because of").SelectOptionAsync("Rot");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(Part(page, "bulb 2, leaf 1")).ToHaveCountAsync(0);
        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(Part(page, "bulb 2, leaf 1")).ToBeVisibleAsync();

        // A reading with a forgotten point is caught with what it means.
        await EnterAsync(page, "Reading");
        await page.Locator("#f-pH").FillAsync("64");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("#f-pH-wrong")).ToHaveTextAsync("pH \"64\": must lie between 0 and 14; if the pen shows 6.4, type that.");
        await page.Locator("#f-pH").FillAsync("6,4");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("#root svg").First).ToBeAttachedAsync();

        // A memory known to the year; a day to come, and one before it came, are refused.
        await EnterAsync(page, "Note");
        await page.Locator("#f-note").FillAsync("A bud at the seller's.");
        await page.GetByLabel("How exactly it is known").SelectOptionAsync("Year");
        await page.GetByLabel("in a year").FillAsync("2999");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("dialog .wrong")).ToContainTextAsync("today or earlier");
        await page.GetByLabel("in a year").FillAsync("2019");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("dialog .wrong")).ToContainTextAsync("not before it came");
        await page.GetByLabel("in a year").FillAsync(DateTime.Now.Year.ToString(System.Globalization.CultureInfo.InvariantCulture));
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("A bud at the seller's.");

        // Put right: the fact that was wrong stays readable beside what replaced it.
        await page.GoAsync($"/plants/{number}/facts");
        await page.Locator(".facts .act:enabled").First.WaitForAsync();
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex("^Put right.*yellow") }).ClickAsync();
        await page.GetByLabel("What is to be seen").SelectOptionAsync("DryTip");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator(".fact.out")).ToContainTextAsync(["yellowing"]);
        await page.GoAsync($"/plants/{number}");
        await Assertions.Expect(Part(page, "bulb 1, leaf 2, dry tip")).ToBeVisibleAsync();

        // A photo from the device, and what it proved to be, with what the codes find in the name before it is saved.
        await page.Locator(".file input").SetInputFilesAsync(new FilePayload { Name = "IMG_2.jpg", MimeType = "image/jpeg", Buffer = Convert.FromBase64String(RoundWalk.Picture) });
        await Assertions.Expect(page.Locator("#photos img")).ToHaveCountAsync(1);
        (await page.Locator("#photos img").EvaluateAsync<bool>("async image => { image.loading = 'eager'; await image.decode(); return image.naturalWidth > 0; }")).ShouldBeTrue("its thumbnail is a picture");
        await EnterAsync(page, "Determined");
        await page.Locator("#f-name").FillAsync("cattleya walkeriana");
        await page.Locator("#f-evidence").FillAsync("flower");
        await Assertions.Expect(page.Locator("dialog .advice")).ToContainTextAsync("A genus takes a capital letter");
        await Ways.ShootAsync(page, "plant-determined");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("Cattleya walkeriana");

        // Divided: one growth goes, the other stays; the child knows where it is from.
        await EnterAsync(page, "Division or keiki");
        await page.GetByRole(AriaRole.Checkbox, new() { Name = "bulb 2" }).CheckAsync();
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync($"Taken from no. {number}");
        var child = Regex.Match(page.Url, "[0-9]+$").Value;
        child.ShouldNotBe(number);
        await page.LiveAsync();
        await Assertions.Expect(Part(page, "bulb 1, leaf 1")).ToBeVisibleAsync();

        // Forgotten, with a preview that must be confirmed by the number.
        await page.GotoAsync($"/plants/{child}/forget");
        await page.GetByLabel("To go on, type its number").FillAsync(child);
        await Button(page, "Forget it for good").ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync($"No. {child} is forgotten");
        await page.GotoAsync($"/plants/{child}");
        await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync($"There is no plant no. {child}");
    }

    [Fact]
    public async Task A_reading_of_the_air_is_put_right()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        page.SetDefaultTimeout(30_000);
        await page.GoAsync("/readings");
        await Button(page, "Air, light").ClickAsync();
        await page.Locator("#f-temperature").FillAsync("71");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(page.Locator("dialog .wrong")).ToContainTextAsync("if the thermometer shows °F, type 21.7");
        await page.Locator("#f-temperature").FillAsync("12,7");
        await page.Locator("#f-note").FillAsync("read at the door");
        await Button(page, "Save").ClickAsync();
        var row = page.Locator("tr", new() { HasText = "read at the door" });
        await Assertions.Expect(row).ToContainTextAsync("12.7");
        await row.GetByRole(AriaRole.Link).Filter(new() { HasText = "put right" }).ClickAsync();
        await page.Locator("dialog.entry[open]").WaitForAsync();
        (await page.Locator("#f-temperature").InputValueAsync()).ShouldBe("12.7");
        await page.Locator("#f-temperature").FillAsync("21.7");
        await Ways.ShootAsync(page, "reading-put-right");
        await Button(page, "Save").ClickAsync();
        await Assertions.Expect(row).ToContainTextAsync("21.7");
        await Assertions.Expect(row).ToHaveCountAsync(1);
        page.Url.ShouldNotContain("right=");
    }

    [Fact]
    public async Task The_reader_sets_units_and_every_page_follows()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Laptop);
        page.SetDefaultTimeout(30_000);
        await page.GoAsync("/settings");
        try
        {
            await page.GetByLabel("Conductivity").SelectOptionAsync("Ppm500");
            await page.GetByLabel("Address in QR codes").Or(page.Locator("#address")).First.FillAsync("lean-to");
            await Button(page, "Save").ClickAsync();
            await Assertions.Expect(page.Locator(".wrong")).ToContainTextAsync("base address \"lean-to\"");
            await page.Locator("#address").FillAsync("https://lean-to.local:5443/");
            await Button(page, "Save").ClickAsync();
            await Assertions.Expect(page.Locator(".tag", new() { HasText = "Saved" })).ToBeVisibleAsync();
            await page.GoAsync("/plants/1");
            await Assertions.Expect(page.Locator("#root")).ToContainTextAsync("ppm (0.5 scale)");
            await page.GoAsync("/water");
            await Assertions.Expect(page.Locator("main")).ToContainTextAsync("ppm (0.5 scale)");
        }
        finally
        {
            await page.GoAsync("/settings");
            await page.GetByLabel("Conductivity").SelectOptionAsync("MillisiemensPerCm");
            await Button(page, "Save").ClickAsync();
            await Assertions.Expect(page.Locator(".tag", new() { HasText = "Saved" })).ToBeVisibleAsync();
        }
    }

    private static ILocator Part(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static async Task EnterAsync(IPage page, string what)
    {
        await Button(page, "Enter…").ClickAsync();
        await page.Locator("dialog.entry[open]").WaitForAsync();
        await Button(page, what).ClickAsync();
        await Button(page, "Save").WaitForAsync();
    }
}
