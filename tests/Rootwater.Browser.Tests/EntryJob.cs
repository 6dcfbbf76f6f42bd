using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Rootwater.Ledger;
using Rootwater.Ledger.Demo;

namespace Rootwater.Browser.Tests;

/// <summary>The whole way of a new brand into the cupboard, on the real ledger of a demo bench whose clock can be moved on: months of it on a phone, and once more over HTTP.</summary>
public sealed class EntryJob(Browsers browsers, MovedOnProgram program) : IClassFixture<MovedOnProgram>
{
    private const string Label = "Total nitrogen (N) 15 %\nnitrate nitrogen 12 %\nammoniacal nitrogen 1 %\nurea nitrogen 2 %\nP2O5 5 %\nK2O 15 %\nCaO 10 %\nMgO 3 %";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_new_brand_is_let_in_over_months_left_and_taken_up_again_on_a_phone()
    {
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/cupboard/new");
        await page.GetByLabel("Name").FillAsync("quay feed 15-5-15");
        await page.Locator("#label").FillAsync(Label);
        await page.Locator(".thumb .act").First.ClickAsync();
        await Button(page, "Let it in step by step").ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex("/cupboard/entries/"));
        await LiveAsync(page);
        var path = new Uri(page.Url).AbsolutePath;
        var id = Guid.Parse(path.Split('/')[^1]);
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync(["It must be made of"]);
        await Assertions.Expect(page.Locator("#unseen")).ToContainTextAsync("urea nitrogen, which no EC pen sees");

        // What a test can in this water should read is said before anything is mixed.
        await page.GetByLabel("In which water").SelectOptionAsync(new SelectOptionValue { Label = "rain barrel" });
        await Button(page, "Plan it").ClickAsync();
        await Assertions.Expect(page.Locator("#next")).ToContainTextAsync(new Regex("EC \\d\\.\\d\\d to \\d\\.\\d\\d mS/cm and pH \\d\\.\\d to \\d\\.\\d would be fine"));
        await Assertions.Expect(page.Locator("#test")).ToContainTextAsync("2 L of rain barrel");

        // Left half-way: another day, another phone, and there it stands.
        await page.Context.CloseAsync();
        program.Clock.MoveOn(TimeSpan.FromDays(2));
        page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync("/cupboard/entries");
        await page.Locator("main a.line", new() { HasText = "Quay feed 15-5-15" }).ClickAsync();
        await Assertions.Expect(page).ToHaveURLAsync(new Regex(Regex.Escape(path)));
        await LiveAsync(page);
        await StandsAtAsync(page, "test can planned");
        var expected = (await program.Desks.Entries.GetAsync(id, Cancel))!.Test!;

        await page.Locator("#ph").FillAsync("65");
        await Button(page, "Keep the readings").ClickAsync();
        await Assertions.Expect(page.Locator("#ph-wrong")).ToContainTextAsync("6.5");
        await page.Locator("#ec").FillAsync((0.8 * expected.Ec.Value / 1000).ToString("0.00", CultureInfo.InvariantCulture));
        await page.Locator("#ph").FillAsync(expected.PH.Value.ToString("0.0", CultureInfo.InvariantCulture));
        await Button(page, "Keep the readings").ClickAsync();
        await Assertions.Expect(page.Locator("#test")).ToContainTextAsync(new Regex("outside its band.*inside its band.*of what the label says", RegexOptions.Singleline));

        // Haze may need a day.
        await Button(page, "Keep the look").ClickAsync();
        await Assertions.Expect(page.Locator("#when-wrong")).ToContainTextAsync("Haze may need a day");
        program.Clock.MoveOn(TimeSpan.FromHours(25));
        await OpenedAsync(page, path);
        await Button(page, "Keep the look").ClickAsync();
        await StandsAtAsync(page, "clear after a day");

        // What will be compared is fixed before; two pairs at least.
        await page.Locator("#next .choice input").First.CheckAsync();
        await page.Locator("#outcome").FillAsync("new leaves and their length by autumn");
        await Button(page, "Begin the trial").ClickAsync();
        await Assertions.Expect(page.Locator("#own-wrong")).ToContainTextAsync("at least two pairs");
        await page.Locator("#next .choice input").Nth(1).CheckAsync();
        await page.Locator("#outcome").FillAsync("");
        await Button(page, "Begin the trial").ClickAsync();
        await Assertions.Expect(page.Locator("#outcome-wrong")).ToContainTextAsync("Say now what will be compared");
        await page.Locator("#outcome").FillAsync("new leaves and their length by autumn");
        await Button(page, "Begin the trial").ClickAsync();
        await StandsAtAsync(page, "on trial");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("provisional");
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("To be judged by: new leaves and their length by autumn");

        // Good news after a month is no news.
        program.Clock.MoveOn(TimeSpan.FromDays(30));
        await OpenedAsync(page, path);
        await JudgeAsync(page, worse: "0", better: "1");
        await Assertions.Expect(page.Locator("#better-wrong")).ToContainTextAsync("Too early to tell");
        program.Clock.MoveOn(TimeSpan.FromDays(70));
        await OpenedAsync(page, path);
        await JudgeAsync(page, worse: "0", better: "1");
        await StandsAtAsync(page, "trial judged");

        await Button(page, "Accept it").ClickAsync();
        await Assertions.Expect(page.Locator("#why-wrong")).ToContainTextAsync("A word why");
        await page.Locator("#why").FillAsync("as good as the old one");
        await Button(page, "Accept it").ClickAsync();
        await StandsAtAsync(page, "accepted");
        await page.GetByRole(AriaRole.Link, new() { Name = "It is in the cupboard." }).ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("Quay feed 15-5-15");

        // Corrected by what the pen read of it, all of it alike, and by nothing else.
        var (said, kept) = ((await program.Desks.Entries.GetAsync(id, Cancel))!.Product, (await program.Desks.Cupboard.GetAsync(id, Cancel))!.Product);
        var shares = Enum.GetValues<Growing.Nutrient>().Where(nutrient => said.MgPerKg[nutrient] > 1).Select(nutrient => kept.MgPerKg[nutrient] / said.MgPerKg[nutrient]).ToList();
        shares.ShouldAllBe(share => Math.Abs(share - shares[0]) < 1e-6);
        shares[0].ShouldBe(0.8, 0.03);
    }

    [Fact]
    public async Task A_brand_that_turns_hazy_is_refused_over_HTTP_and_never_comes_into_the_cupboard()
    {
        using var http = new HttpClient { BaseAddress = new Uri(program.Address) };
        var entry = await SaidAsync(await http.PostAsJsonAsync("/api/entries", new { name = "harbour salt", labelText = Label }, Cancel));
        var way = $"/api/entries/{entry.GetProperty("id").GetString()}";
        var water = (await http.GetFromJsonAsync<JsonElement>("/api/waters", Cancel)).EnumerateArray().First(each => each.GetProperty("name").GetString() == "rain barrel").GetProperty("id").GetString();
        (await SaidAsync(await http.PostAsJsonAsync($"{way}/test", new { waterId = water, gramsPerLitre = 1, litres = 2 }, Cancel))).GetProperty("next").GetString()!.ShouldContain("would be fine");
        await SaidAsync(await http.PostAsJsonAsync($"{way}/reading", new { pH = 6.1 }, Cancel));

        var hazy = await SaidAsync(await http.PostAsJsonAsync($"{way}/look", new { clear = false, note = "milky" }, Cancel));
        hazy.GetProperty("next").GetString()!.ShouldStartWith("It did not stay clear");
        (await http.PostAsJsonAsync($"{way}/decided", new { accept = true, why = "cheap" }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest, "no plant has had it");
        await SaidAsync(await http.PostAsJsonAsync($"{way}/decided", new { accept = false, why = "milky after an hour" }, Cancel));

        (await http.GetAsync($"/api/products/{entry.GetProperty("id").GetString()}", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
        var page = await browsers.OpenAsync(program.Address, Screen.Phone);
        await page.GoAsync(way.Replace("/api/entries", "/cupboard/entries", StringComparison.Ordinal));
        await StandsAtAsync(page, "rejected");
        await Assertions.Expect(page.Locator("#steps")).ToContainTextAsync("milky after an hour");
        await Assertions.Expect(page.Locator("#next")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_trial_that_did_harm_ends_it_early_over_HTTP()
    {
        using var http = new HttpClient { BaseAddress = new Uri(program.Address) };
        var entry = await SaidAsync(await http.PostAsJsonAsync("/api/entries", new { name = "mole feed", labelText = Label }, Cancel));
        var way = $"/api/entries/{entry.GetProperty("id").GetString()}";
        var water = (await http.GetFromJsonAsync<JsonElement>("/api/waters", Cancel)).EnumerateArray().First(each => each.GetProperty("name").GetString() == "rain barrel").GetProperty("id").GetString();
        var planned = await SaidAsync(await http.PostAsJsonAsync($"{way}/test", new { waterId = water, gramsPerLitre = 1, litres = 2 }, Cancel));
        var ec = planned.GetProperty("test").GetProperty("ec").GetProperty("value").GetDouble();
        (await SaidAsync(await http.PostAsJsonAsync($"{way}/reading", new { ecMicrosiemensPerCm = ec }, Cancel))).GetProperty("corrections").GetArrayLength().ShouldBe(0, "a reading inside its band corrects nothing");
        program.Clock.MoveOn(TimeSpan.FromHours(25));
        var clear = await SaidAsync(await http.PostAsJsonAsync($"{way}/look", new { clear = true }, Cancel));
        var pairs = clear.GetProperty("offered").EnumerateArray().Take(2).Select(pair => new { @new = pair.GetProperty("new").GetString(), old = pair.GetProperty("old").GetString() }).ToList();
        (await SaidAsync(await http.PostAsJsonAsync($"{way}/trial", new { pairs, outcome = "roots by autumn" }, Cancel))).GetProperty("isProvisional").GetBoolean().ShouldBeTrue();
        program.Clock.MoveOn(TimeSpan.FromDays(20));

        (await http.PostAsJsonAsync($"{way}/judged", new { worse = 0, better = 2 }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest, "three weeks tell no good");
        await SaidAsync(await http.PostAsJsonAsync($"{way}/judged", new { worse = 2, better = 0, note = "root tips brown" }, Cancel));
        var closed = await SaidAsync(await http.PostAsJsonAsync($"{way}/decided", new { accept = false, why = "burnt root tips" }, Cancel));

        closed.GetProperty("stage").GetString().ShouldBe("rejected", StringCompareShould.IgnoreCase);
        (await program.Desks.Mixing.GetBenchTodayAsync(cancel: Cancel)).HeldBack.ShouldContain(Guid.Parse(entry.GetProperty("id").GetString()!), "what was on trial stays out of every plan");
    }

    private static ILocator Button(IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true });

    private static async Task OpenedAsync(IPage page, string path)
    {
        await page.GotoAsync(path);
        await LiveAsync(page);
    }

    // What is typed before the page answers is not heard.
    private static Task LiveAsync(IPage page) => page.Locator("#next button:enabled").First.WaitForAsync();

    private static Task StandsAtAsync(IPage page, string stage) => Assertions.Expect(page.Locator("h1 + p .tag").First).ToContainTextAsync(stage);

    private static async Task JudgeAsync(IPage page, string worse, string better)
    {
        await page.Locator("#worse").FillAsync(worse);
        await page.Locator("#better").FillAsync(better);
        await Button(page, "Keep the judgement").ClickAsync();
    }

    private static async Task<JsonElement> SaidAsync(HttpResponseMessage answer)
    {
        answer.IsSuccessStatusCode.ShouldBeTrue(await answer.Content.ReadAsStringAsync(Cancel));
        return await answer.Content.ReadFromJsonAsync<JsonElement>(Cancel);
    }
}

/// <summary>The program on a demo bench whose clock can be moved on.</summary>
public sealed class MovedOnProgram : IAsyncLifetime
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("rootwater-moved-on-");
    private WebProgram _program = null!;

    public MovedOn Clock { get; } = new();

    public BenchDesks Desks { get; private set; } = null!;

    public string Address { get; private set; } = "";

    public async ValueTask InitializeAsync()
    {
        Desks = await BenchDesks.OpenAsync(new LedgerOptions { Location = Path.Combine(_folder.FullName, "bench.db") }, demo: true, clock: Clock, story: DemoStory.ThreeMonths);
        _program = new WebProgram(services => services.AddBench(Desks));
        Address = _program.Serve();
    }

    public async ValueTask DisposeAsync()
    {
        await _program.DisposeAsync();
        await Desks.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    /// <summary>The machine's clock, some time ahead.</summary>
    public sealed class MovedOn : TimeProvider
    {
        private TimeSpan _ahead;

        public void MoveOn(TimeSpan by) => _ahead += by;

        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() + _ahead;
    }
}
