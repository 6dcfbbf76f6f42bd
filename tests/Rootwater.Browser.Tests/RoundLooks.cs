using System.Net.Http.Json;
using System.Text.Json;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Rootwater.Browser.Tests;

/// <summary>The round as it looks and loads: on phone and laptop, light and dark, with data and its dialogs open; by keyboard alone; refused entries; how much a first visit loads.</summary>
public sealed class RoundLooks(Browsers browsers, DemoProgram program) : IClassFixture<DemoProgram>
{
    /// <summary>What a first visit of the round may load, compressed: the issue's limit.</summary>
    private const int FirstLoadBytes = 250 * 1024;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private async Task<IPage> OpenAsync(Screen screen)
    {
        var page = await browsers.OpenAsync(program.Address, screen);
        await page.GotoAsync("/round");
        await page.Locator("[data-do=seen]:enabled").WaitForAsync();
        return page;
    }

    /// <summary>A plant that is due, with leaves to tap at and a spike, whatever the demo tells of it.</summary>
    private async Task<int> LeafyAsync()
    {
        using var client = new HttpClient { BaseAddress = new Uri(program.Address) };
        var sheet = await client.GetFromJsonAsync<JsonElement>("/api/round", Cancel);
        var stop = sheet.GetProperty("stops").EnumerateArray().First(each => each.GetProperty("due").GetBoolean() && !IsDone(each));
        var plant = stop.GetProperty("plant");
        var id = plant.GetProperty("id").GetGuid();
        if (stop.GetProperty("growths").EnumerateArray().Sum(growth => growth.GetProperty("leaves").GetArrayLength()) < 3)
        {
            var highest = stop.GetProperty("growths").EnumerateArray().Select(each => each.GetProperty("number").GetInt32()).DefaultIfEmpty(0).Max();
            var (growth, when) = (Guid.CreateVersion7(), new { day = sheet.GetProperty("asOf").GetString() });
            var facts = new List<object> { new { id = Guid.CreateVersion7(), kind = "growth.seen", subjectId = id, payload = new { plantId = id, growthId = growth, number = highest + 1, form = "Bulb", thereOnArrival = true }, when } };
            for (var position = 1; position <= 4; position++)
                facts.Add(new { id = Guid.CreateVersion7(), kind = "leaf.seen", subjectId = id, payload = new { plantId = id, growthId = growth, leafId = Guid.CreateVersion7(), position, thereOnArrival = true }, when });
            (await client.PostAsJsonAsync("/api/facts", facts, Cancel)).EnsureSuccessStatusCode();
        }

        return plant.GetProperty("number").GetInt32();
    }

    // Another test of this class may have given it already: they share a bench.
    private static bool IsDone(JsonElement stop) =>
        (stop.TryGetProperty("doneFactId", out var done) && done.ValueKind != JsonValueKind.Null) || (stop.TryGetProperty("skipped", out var skipped) && skipped.ValueKind != JsonValueKind.Null);

    [Theory]
    [InlineData(Screen.Phone)]
    [InlineData(Screen.Laptop)]
    public async Task The_round_and_what_opens_on_it_is_accessible_and_inside_its_width(Screen screen)
    {
        var number = await LeafyAsync();
        var page = await OpenAsync(screen);
        await LookAsync(page, $"round-{screen}");
        await page.EvaluateAsync("document.querySelectorAll('main details').forEach(each => each.open = true)");
        await LookAsync(page, $"round-open-{screen}");
        await page.Locator($"#stop-{number} .pick").ClickAsync();
        await page.Locator("#now-amount").ClickAsync();
        await LookAsync(page, $"round-amount-{screen}");
        await page.Keyboard.PressAsync("Escape");
        await page.Locator("[data-do=seen]").ClickAsync();
        await page.Locator("#seen .leaf").First.ClickAsync();
        await Ways.ShootAsync(page, $"round-leaves-{screen}");
        await page.Locator("#sample-ph").FillAsync("64");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the sample" }).ClickAsync();
        await LookAsync(page, $"round-seen-{screen}");
        await page.GotoAsync("/absence");
        await LookAsync(page, $"absence-{screen}");
        await page.GotoAsync("/network");
        await LookAsync(page, $"network-{screen}");
    }

    private static async Task LookAsync(IPage page, string name)
    {
        foreach (var theme in new[] { ColorScheme.Dark, ColorScheme.Light })
        {
            await page.EmulateMediaAsync(new() { ColorScheme = theme });
            await Ways.ShootAsync(page, $"{name}-{theme}");
            var axe = await page.RunAxe(Looks.AxeFor(theme));
            axe.Violations.Where(violation => violation.Impact is "serious" or "critical")
                .Select(violation => $"{name} {theme} {violation.Id}: {string.Join(" | ", violation.Nodes.Select(node => node.Html))}").ShouldBeEmpty();
        }

        (await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth")).ShouldBeLessThanOrEqualTo(0, $"{name} scrolls sideways");
        var small = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('main button, dialog button, dialog input:not([type=radio]), dialog select, main a.act, summary, .choice')]
              .filter(each => each.checkVisibility() && each.getBoundingClientRect().height < 43.5).map(each => each.outerHTML.slice(0, 120))
            """);
        small.ShouldBeEmpty($"{name}: a target is under 44 px high");
    }

    [Fact]
    public async Task A_first_visit_of_the_round_loads_little_and_nothing_from_elsewhere()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        var load = await FirstLoad.OfAsync(page, "/round");
        TestContext.Current.TestOutputHelper?.WriteLine($"round: {load}");
        load.Bytes.ShouldBeInRange(10_000, FirstLoadBytes);
        load.Authorities.ShouldBe([new Uri(program.Address).Authority]);
        load.Answers.ShouldNotContain(answer => answer.Address.AbsolutePath.Contains("blazor"));
        load.Complaints.ShouldBeEmpty("the content security policy or a script complained");
    }

    public static (string Reader, string Typed, double? Value, string? Wrong, double? Meant)[] Typed { get; } =
    [
        ("readPH", "6.4", 6.4, null, null), ("readPH", "6,4", 6.4, null, null), ("readPH", "64", null, "PHMeant", 6.4), ("readPH", "0.64", null, "PHMeant", 6.4),
        ("readPH", "15", null, "PHRange", null), ("readPH", "six", null, "NotNumber", null), ("readPH", "", null, null, null),
        ("readEc", "1,1", 1.1, null, null), ("readEc", "1100", null, "EcMeant", 1.1), ("readEc", "11", null, "EcMeant", 1.1), ("readEc", "1.234,5", null, "NotNumber", null), ("readEc", "-1", null, "EcRange", null),
        ("readLevel", "40", 40, null, null), ("readLevel", "0,5", null, "LevelMeant", 50), ("readLevel", "140", null, "LevelRange", null),
        ("readMillilitres", "0", null, "WrongMillilitres", null), ("readMillilitres", "250", 250, null, null), ("readCm", "4,5", 4.5, null, null), ("readCm", "900", null, "CmRange", null),
    ];

    [Fact]
    public async Task Numbers_are_read_as_they_are_typed_and_what_is_unlikely_is_asked_about()
    {
        var page = await OpenAsync(Screen.Laptop);
        foreach (var (reader, typed, value, wrong, meant) in Typed)
        {
            var read = await page.EvaluateAsync<JsonElement>("async ([reader, typed]) => { const read = (await import('/js/round/numbers.js'))[reader](typed); return [read.value ?? null, read.wrong ?? null, read.meant === undefined ? null : Math.round(read.meant * 1e9) / 1e9]; }", new[] { reader, typed });
            (Number(read[0]), read[1].GetString(), Number(read[2])).ShouldBe((value, wrong, meant), $"{reader}(\"{typed}\")");
        }

        static double? Number(JsonElement element) => element.ValueKind == JsonValueKind.Number ? element.GetDouble() : null;
    }

    // RFC 9562, section 5.7: version 7, variant 10, the first 48 bits a time in milliseconds; made in a row they rise.
    [Fact]
    public async Task Ids_made_on_the_phone_are_version_7_and_rise()
    {
        var page = await OpenAsync(Screen.Laptop);
        var before = DateTimeOffset.UtcNow;
        var ids = await page.EvaluateAsync<string[]>("async () => { const { newId } = await import('/js/round/queue.js'); return Array.from({ length: 20000 }, newId); }");
        ids.Distinct().Count().ShouldBe(20_000);
        ids.ShouldBe(ids.Order(StringComparer.Ordinal));
        foreach (var id in ids.Where((_, at) => at % 997 == 0).Select(Guid.Parse))
        {
            id.Version.ShouldBe(7);
            (id.Variant >> 2).ShouldBe(0b10);
            var milliseconds = Convert.ToInt64(id.ToString("N")[..12], 16);
            DateTimeOffset.FromUnixTimeMilliseconds(milliseconds).ShouldBe(before, TimeSpan.FromMinutes(2));
        }
    }

    [Fact]
    public async Task It_can_be_installed()
    {
        var page = await OpenAsync(Screen.Phone);
        var manifest = await page.EvaluateAsync<JsonElement>("fetch(document.querySelector('link[rel=manifest]').href).then(answer => answer.json())");
        manifest.GetProperty("start_url").GetString().ShouldBe("/round");
        manifest.GetProperty("display").GetString().ShouldBe("standalone");
        foreach (var icon in manifest.GetProperty("icons").EnumerateArray())
        {
            var size = await page.EvaluateAsync<int[]>("src => new Promise((done, failed) => { const image = new Image(); image.onload = () => done([image.naturalWidth, image.naturalHeight]); image.onerror = failed; image.src = src; })", icon.GetProperty("src").GetString());
            $"{size[0]}x{size[1]}".ShouldBe(icon.GetProperty("sizes").GetString());
        }

        (await page.EvaluateAsync<string>("navigator.serviceWorker.ready.then(ready => new URL(ready.scope).pathname)")).ShouldBe("/round");
    }

    [Fact]
    public async Task A_plant_is_ticked_and_taken_back_by_keyboard_alone()
    {
        var page = await OpenAsync(Screen.Laptop);
        var row = page.Locator("#walk li.stop:not(.done)").First;
        var id = await row.GetAttributeAsync("id");
        await row.Locator(".pick").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        for (var i = 0; i < 200 && !await page.EvaluateAsync<bool>("document.activeElement?.dataset?.do === 'full'"); i++)
            await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator($"#{id}.done").WaitForAsync();
        await Assertions.Expect(page.Locator("#said")).ToContainTextAsync("still full: skipped");
        await page.Locator($"#{id} [data-undo]").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator($"#{id}.done")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator("#net")).ToHaveTextAsync("2 entries sent");
    }

    [Fact]
    public async Task A_refused_entry_is_shown_with_its_reason_mended_and_holds_up_no_other()
    {
        var number = await LeafyAsync();
        var page = await OpenAsync(Screen.Phone);
        await page.Locator($"#stop-{number} .pick").ClickAsync();
        // The phone's own check is gone round, as an older page of it might.
        var plant = await page.Locator($"#stop-{number}").GetAttributeAsync("data-plant");
        await page.EvaluateAsync("""
            async plant => {
              const { add, newId } = await import("/js/round/queue.js");
              await add([
                { kind: "fact", plantId: plant, words: "a leach", fact: { id: newId(), kind: "plant.given", subjectId: plant, payload: { plantId: plant, roundId: null, what: "Leach", canId: null, waterId: null, millilitres: 99999 } } },
                { kind: "fact", plantId: plant, words: "a note", fact: { id: newId(), kind: "plant.noted", subjectId: plant, payload: { plantId: plant, text: "after the refused one" } } },
              ]);
              dispatchEvent(new Event("online"));
            }
            """, plant);
        var notice = page.Locator("#refused .notice");
        await Assertions.Expect(notice).ToContainTextAsync("Refused: 1.");
        await Assertions.Expect(notice).ToContainTextAsync("99999");
        await Assertions.Expect(page.Locator("#net")).ToHaveTextAsync("1 entry sent");
        await Ways.ShootAsync(page, "round-refused");
        await notice.GetByRole(AriaRole.Button, new() { Name = "Mend…" }).ClickAsync();
        await page.Locator("#mend-millilitres").FillAsync("600");
        await page.Locator("dialog#ask").GetByRole(AriaRole.Button, new() { Name = "Send again" }).ClickAsync();
        await Assertions.Expect(notice).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator($"#stop-{number}")).ToContainTextAsync("leached, 600 mL");
        using var client = new HttpClient { BaseAddress = new Uri(program.Address) };
        var recent = await client.GetFromJsonAsync<JsonElement>("/api/facts/recent", Cancel);
        recent.EnumerateArray().Count(fact => fact.GetProperty("payload").TryGetProperty("text", out var text) && text.GetString() == "after the refused one").ShouldBe(1);
    }

    [Fact]
    public async Task A_whole_place_is_ticked_at_once_and_the_walk_goes_by_can()
    {
        var page = await OpenAsync(Screen.Phone);
        await page.Locator("[data-order=can]").ClickAsync();
        await Assertions.Expect(page.Locator("#walk h2").First).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^(Can [A-Z]|no can yet|Plain water)$"));
        await page.Locator("[data-order=walk]").ClickAsync();
        var all = page.Locator("[data-all]:visible").First;
        if (await all.CountAsync() == 0)
            Assert.Skip("Nothing on today's demo walk can be ticked by place: no place has two stops with a can.");
        var before = await page.Locator("#walk li.stop.done").CountAsync();
        await all.ClickAsync();
        var listed = await page.Locator("dialog#ask li").AllInnerTextsAsync();
        await page.Locator("dialog#ask .act").First.ClickAsync();
        await Assertions.Expect(page.Locator("#walk li.stop.done")).ToHaveCountAsync(before + listed.Sum(line => line.Count(sign => sign == '(')));
        await Assertions.Expect(page.Locator("#net")).ToHaveTextAsync(new System.Text.RegularExpressions.Regex("^[0-9]+ entries sent$"));
    }
}
