using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The round walked on a phone, on a name other than localhost with the bench's own certificate, while the server comes and goes.</summary>
public sealed class RoundWalk : IAsyncLifetime
{
    // A valid JPEG, 8 × 8 pixels of one colour, made with ImageSharp's encoder.
    internal const string Picture = "/9j/4AAQSkZJRgABAQEAYABgAAD/2wBDAAgGBgcGBQgHBwcJCQgKDBQNDAsLDBkSEw8UHRofHh0aHBwgJC4nICIsIxwcKDcpLDAxNDQ0Hyc5PTgyPC4zNDL/wAALCAAIAAgBAREA/8QAFQABAQAAAAAAAAAAAAAAAAAAAAf/xAAUEAEAAAAAAAAAAAAAAAAAAAAA/9oACAEBAAA/AL+A/9k=";

    private readonly RoundProgram _program = new();

    public async ValueTask InitializeAsync()
    {
        Assert.SkipWhen(Browsers.Path is null, "No Chromium on this machine (Debian: apt-get install chromium; or name one in ROOTWATER_CHROMIUM).");
        await _program.StartAsync();
        await _program.SwitchNetworkOnAsync();
    }

    private static ILocator Net(IPage page) => page.Locator("#net");

    private static async Task ActAsync(IPage page, string name) => await page.Locator("#thumb").GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();

    private static async Task PickAsync(IPage page, int number) => await page.Locator($"#stop-{number} .pick").ClickAsync();

    /// <summary>Picks the next stop that can be ticked: it has a can mixed for it, or gets water.</summary>
    private static async Task<int> PickNextAsync(IPage page)
    {
        await page.Locator("#walk li.stop:not(.done)").Filter(new() { HasTextRegex = new Regex("mL of can|plain water") }).First.Locator(".pick").ClickAsync();
        return await CurrentAsync(page);
    }

    private static async Task GiveAsync(IPage page)
    {
        var number = await CurrentAsync(page);
        await page.WaitForTimeoutAsync(450); // A second tap right after the first is taken for a slip.
        await page.Locator("[data-do=give]").ClickAsync();
        await page.Locator($"#stop-{number}.done").WaitForAsync();
    }

    private static async Task<int> CurrentAsync(IPage page) => int.Parse(await page.Locator("#now-number").InnerTextAsync(), System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Facts of the walk in the ledger, in the order they were written down.</summary>
    private async Task<List<(string Kind, string Id, long Sequence, JsonElement Payload)>> LedgerAsync(params string[] kinds) =>
    [
        .. (await _program.GetAsync("/api/facts/recent?minutes=120&most=1000")).EnumerateArray().Reverse()
            .Where(fact => kinds.Contains(fact.GetProperty("kind").GetString()))
            .Select(fact => (fact.GetProperty("kind").GetString()!, fact.GetProperty("id").GetString()!, 0L, fact.GetProperty("payload"))),
    ];

    [Fact]
    public async Task What_is_ticked_typed_and_photographed_without_a_network_is_sent_once_and_in_order_when_it_is_back()
    {
        var phone = await _program.PhoneAsync();
        var page = phone.Pages[0];
        await RoundProgram.SignInAsync(page);
        (await page.EvaluateAsync<bool>("isSecureContext")).ShouldBeTrue();
        await page.EvaluateAsync("navigator.serviceWorker.ready.then(() => true)");
        await Ways.ShootAsync(page, "round-phone");

        // With the network: one plant ticked, sent at once.
        var before = (await LedgerAsync("plant.given", "plant.skipped")).Count;
        var first = await PickNextAsync(page);
        await GiveAsync(page);
        await Assertions.Expect(Net(page)).ToHaveTextAsync("1 entry sent");
        await Assertions.Expect(page.Locator($"#stop-{first}")).ToHaveClassAsync(new Regex("done"));

        // The network drops half-way.
        await _program.StopAsync();
        var second = await CurrentAsync(page);
        second.ShouldNotBe(first);
        await page.WaitForTimeoutAsync(450);
        await ActAsync(page, "Still full");
        await page.Locator($"#stop-{second}.done").WaitForAsync();
        await Assertions.Expect(Net(page)).ToHaveTextAsync("No network: 1 entry waits on this phone");
        var third = await PickNextAsync(page);
        await GiveAsync(page);
        var fourth = await PickNextAsync(page);
        await GiveAsync(page);
        // A wrong tick is taken back before it ever leaves the phone.
        await page.Locator("#last button").ClickAsync();
        await Assertions.Expect(page.Locator($"#stop-{fourth}")).Not.ToHaveClassAsync(new Regex("done"));
        await Assertions.Expect(Net(page)).ToHaveTextAsync("No network: 2 entries wait on this phone");
        await Ways.ShootAsync(page, "round-no-network");

        // The browser is closed and opened again with the server still gone.
        await phone.CloseAsync();
        phone = await _program.PhoneAsync();
        page = phone.Pages[0];
        await page.GotoAsync("/round");
        await page.Locator("[data-do=seen]:enabled").WaitForAsync();
        await Assertions.Expect(Net(page)).ToHaveTextAsync("No network: 2 entries wait on this phone");
        await Assertions.Expect(page.Locator($"#stop-{first}")).ToHaveClassAsync(new Regex("done"));
        await Assertions.Expect(page.Locator($"#stop-{second}")).ToHaveClassAsync(new Regex("done"));
        await Assertions.Expect(page.Locator($"#stop-{third}")).ToHaveClassAsync(new Regex("done"));
        await Assertions.Expect(page.Locator($"#stop-{fourth}")).Not.ToHaveClassAsync(new Regex("done"));

        // What is seen on a plant, a sample with a slip in it, and a photo.
        await PickAsync(page, fourth);
        await ActAsync(page, "Seen…");
        var seen = page.Locator("dialog#seen");
        await seen.Locator("#sample-ec").FillAsync("1100");
        await seen.GetByRole(AriaRole.Button, new() { Name = "New roots" }).ClickAsync();
        await Assertions.Expect(seen.Locator(".kept")).ToContainTextAsync("new roots");
        await Assertions.Expect(seen.Locator("#sample-ec")).ToHaveValueAsync("1100");
        await seen.Locator("#sample-ph").FillAsync("64");
        await seen.GetByRole(AriaRole.Button, new() { Name = "Keep the sample" }).ClickAsync();
        await Assertions.Expect(seen.Locator("#sample-ec-wrong")).ToContainTextAsync("EC 1100 mS/cm: did you mean 1.1?");
        await Assertions.Expect(seen.Locator("#sample-ph-wrong")).ToContainTextAsync("pH 64: did you mean 6.4?");
        await Ways.ShootAsync(page, "round-seen-unlikely");
        await seen.GetByRole(AriaRole.Button, new() { Name = "Take 1.1" }).ClickAsync();
        await seen.Locator("#sample-ph").FillAsync("6,4");
        await seen.GetByRole(AriaRole.Button, new() { Name = "Keep the sample" }).ClickAsync();
        await Assertions.Expect(seen.Locator(".kept")).ToContainTextAsync("sample: EC 1.1, pH 6.4");
        await seen.Locator("#note-text").FillAsync("A scale insect under leaf 2?");
        await seen.GetByRole(AriaRole.Button, new() { Name = "Keep the note" }).ClickAsync();
        await Assertions.Expect(seen.Locator(".kept")).ToContainTextAsync("A scale insect");
        await seen.Locator("#photo").SetInputFilesAsync(new FilePayload { Name = "IMG_1.jpg", MimeType = "image/jpeg", Buffer = Convert.FromBase64String(Picture) });
        await Assertions.Expect(seen.Locator(".kept li")).ToHaveCountAsync(4);
        await Ways.ShootAsync(page, "round-seen");
        await seen.GetByRole(AriaRole.Button, new() { Name = "Close" }).ClickAsync();
        await Assertions.Expect(Net(page)).ToHaveTextAsync("No network: 6 entries wait on this phone");

        // The server is back: all of it, once, in the order it was entered, and said so.
        await phone.CloseAsync();
        phone = await _program.PhoneAsync();
        page = phone.Pages[0];
        await page.GotoAsync("/round");
        await Assertions.Expect(Net(page)).ToHaveTextAsync("No network: 6 entries wait on this phone");
        await _program.StartAsync();
        await Assertions.Expect(Net(page)).ToHaveTextAsync("6 entries sent", new() { Timeout = 60_000 });
        var given = await LedgerAsync("round.begun", "plant.given", "plant.skipped", "roots.seen", "reading.taken", "plant.noted", "photo.added");
        var walk = given[^8..];
        walk.Select(fact => fact.Kind).ShouldBe(["round.begun", "plant.given", "plant.skipped", "plant.given", "roots.seen", "reading.taken", "plant.noted", "photo.added"]);
        walk.Select(fact => fact.Id).Order(StringComparer.Ordinal).ShouldBe(walk.Select(fact => fact.Id), "ids made on the phone rise in the order things were entered");
        walk[5].Payload.GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(1100);
        walk[5].Payload.GetProperty("ph").GetDouble().ShouldBe(6.4);
        (await LedgerAsync("plant.given", "plant.skipped")).Count.ShouldBe(before + 3);

        // Meanwhile somebody else ticks the next plant on a tablet: the phone, which does not know it yet, is asked when it sends its own tick.
        var fifth = await PickNextAsync(page);
        var stop = (await page.EvaluateAsync<JsonElement>("number => JSON.parse(document.getElementById('sheet-data').textContent).stops.find(stop => stop.number === number)", fifth));
        var plant = stop.GetProperty("id").GetGuid();
        Guid? Named(string field) => stop.TryGetProperty(field, out var id) && id.ValueKind == JsonValueKind.String ? id.GetGuid() : null;
        await _program.TellAsync("tablet", new
        {
            id = Guid.CreateVersion7(),
            kind = "plant.given",
            subjectId = plant,
            payload = new { plantId = plant, roundId = walk[0].Payload.GetProperty("roundId").GetGuid(), what = stop.GetProperty("what").GetString(), canId = Named("canId"), waterId = Named("waterId"), millilitres = 100 },
        });
        var counted = (await LedgerAsync("plant.given")).Count;
        await GiveAsync(page);
        await Assertions.Expect(page.Locator("#twice")).ToContainTextAsync("already ticked by tablet");
        await Ways.ShootAsync(page, "round-twice");
        (await LedgerAsync("plant.given")).Count.ShouldBe(counted);
        await page.Locator("#twice").GetByRole(AriaRole.Button, new() { Name = "Count it once" }).ClickAsync();
        await Assertions.Expect(page.Locator("#twice")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator($"#stop-{fifth}")).ToHaveClassAsync(new Regex("done"));
        (await LedgerAsync("plant.given")).Count.ShouldBe(counted);

        // Opened once more nothing is sent again, and the walk goes on where it was.
        await page.ReloadAsync();
        await page.Locator("[data-do=seen]:enabled").WaitForAsync();
        await Assertions.Expect(page.Locator($"#stop-{third}")).ToHaveClassAsync(new Regex("done"));
        (await LedgerAsync("plant.given", "plant.skipped")).Count.ShouldBe(before + 4);
        var sheet = await _program.GetAsync("/api/round");
        sheet.GetProperty("roundId").GetString().ShouldBe(walk[0].Payload.GetProperty("roundId").GetString());
        await phone.CloseAsync();
    }

    [Fact]
    public async Task A_slow_answer_is_not_called_a_missing_network()
    {
        var phone = await _program.PhoneAsync();
        var page = phone.Pages[0];
        await RoundProgram.SignInAsync(page);
        await page.Locator("[data-do=seen]:enabled").WaitForAsync();
        await page.EvaluateAsync("window.told = []; new MutationObserver(() => window.told.push(document.getElementById('net').textContent)).observe(document.getElementById('net'), { childList: true, characterData: true, subtree: true })");
        await page.RouteAsync("**/api/facts?**", async route =>
        {
            await Task.Delay(TimeSpan.FromSeconds(4));
            await route.ContinueAsync();
        });
        await PickNextAsync(page);
        await GiveAsync(page);
        await Assertions.Expect(Net(page)).ToHaveTextAsync("Sending 1 …");
        await Assertions.Expect(Net(page)).ToHaveTextAsync("1 entry sent");
        (await page.EvaluateAsync<string[]>("window.told")).ShouldNotContain(words => words.Contains("No network", StringComparison.Ordinal));
        await phone.CloseAsync();
    }

    public ValueTask DisposeAsync() => _program.DisposeAsync();
}
