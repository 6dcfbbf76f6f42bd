using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Rootwater.Growing.Mixing;
using Rootwater.Ledger.Desks;

namespace Rootwater.Web.Tests;

/// <summary>The cupboard ahead, doing without, new products and the waters' year on the demo bench: as pages and over HTTP.</summary>
public sealed class CupboardPagesTests(CansTests.Demo demo) : IClassFixture<CansTests.Demo>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private HttpClient Client { get; } = demo.Program.CreateClient();

    private async Task<JsonElement> ProductAsync(string name) =>
        (await Client.GetFromJsonAsync<JsonElement>("/api/products", Cancel)).EnumerateArray().Select(item => item.GetProperty("product")).First(product => product.GetProperty("name").GetString()!.Contains(name, StringComparison.OrdinalIgnoreCase));

    [Fact]
    public async Task The_page_of_what_lasts_waits_for_nothing_and_shows_it_once_it_is_worked_out()
    {
        // Written to just now: what is in hand is behind, and the page says so in place of waiting.
        (await Client.PostAsJsonAsync("/api/supply/ways", new { usualLeadDays = 12, buyForDays = 200, roomHumidityPercent = 60 }, Cancel)).EnsureSuccessStatusCode();
        (await Client.PostAsJsonAsync($"/api/products/{(await ProductAsync("magnesium sulfate")).GetProperty("id").GetString()}/lead", new { days = 30 }, Cancel)).EnsureSuccessStatusCode();
        var sheet = await Client.GetFromJsonAsync<JsonElement>("/api/supply", Cancel);
        sheet.GetProperty("ways").GetProperty("buyForDays").GetInt32().ShouldBe(200);
        var products = sheet.GetProperty("products").EnumerateArray().ToList();
        products.ShouldContain(product => product.GetProperty("leadIsItsOwn").GetBoolean() && product.GetProperty("leadDays").GetInt32() == 30);
        products.ShouldContain(product => product.GetProperty("gramsPerMonth").GetProperty("high").GetDouble() > product.GetProperty("gramsPerMonth").GetProperty("low").GetDouble());
        sheet.GetProperty("cost").GetProperty("perCan").GetDouble().ShouldBeGreaterThan(0);

        var page = await Client.GetStringAsync("/cupboard/supply", Cancel);
        page.ShouldContain("id=\"shopping\"");
        page.ShouldContain("id=\"costs\"");
        page.ShouldNotContain("being worked out again");
        var shopping = await Client.GetFromJsonAsync<JsonElement>("/api/supply/shopping", Cancel);
        foreach (var line in shopping.EnumerateArray())
            page.ShouldContain($"/cupboard/{line.GetProperty("productId").GetString()}");
    }

    [Fact]
    public async Task Something_written_puts_the_page_behind_and_the_page_says_so_at_once()
    {
        await Client.GetFromJsonAsync<JsonElement>("/api/supply", Cancel);
        (await Client.PostAsJsonAsync("/api/pens", new { name = $"pen {Guid.NewGuid():N}", kind = "ec" }, Cancel)).EnsureSuccessStatusCode();
        var page = await Client.GetStringAsync("/cupboard/supply", Cancel);
        page.ShouldContain("being worked out again");
        page.ShouldContain("id=\"costs\"", customMessage: "what was in hand is shown meanwhile");
        // Once it is worked out, nothing is said any more.
        await Client.GetFromJsonAsync<JsonElement>("/api/supply", Cancel);
        (await Client.GetStringAsync("/cupboard/supply", Cancel)).ShouldNotContain("being worked out again");
    }

    [Fact]
    public async Task A_spill_leaves_its_lot_once_and_no_more_than_is_there_can_be_spilt()
    {
        var item = (await Client.GetFromJsonAsync<JsonElement>("/api/products", Cancel)).EnumerateArray().First(item => item.GetProperty("product").GetProperty("name").GetString() == "potassium nitrate");
        var (lot, left) = (item.GetProperty("lots")[0].GetProperty("id").GetString(), item.GetProperty("lots")[0].GetProperty("gramsLeft").GetDouble());
        var id = Guid.CreateVersion7();
        for (var twice = 0; twice < 2; twice++)
            (await Client.PostAsJsonAsync($"/api/lots/{lot}/spilt", new { grams = 15, why = "tipped over", id }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.NoContent);
        var after = (await Client.GetFromJsonAsync<JsonElement>($"/api/products/{item.GetProperty("product").GetProperty("id").GetString()}", Cancel)).GetProperty("lots")[0].GetProperty("gramsLeft").GetDouble();
        after.ShouldBe(left - 15, 1e-6);
        (await Client.PostAsJsonAsync($"/api/lots/{lot}/spilt", new { grams = 1e6 }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await Client.GetStringAsync($"/cupboard/{item.GetProperty("product").GetProperty("id").GetString()}", Cancel)).ShouldContain("potassium nitrate", Case.Insensitive);
    }

    [Fact]
    public async Task Doing_without_a_product_says_every_element_and_form_EC_pH_cost_and_for_whom()
    {
        var id = (await ProductAsync("calcium nitrate")).GetProperty("id").GetString();
        var sheet = await Client.GetFromJsonAsync<JsonElement>($"/api/products/{id}/without?seconds=0.3", Cancel);
        sheet.GetProperty("isUsed").GetBoolean().ShouldBeTrue();
        var group = sheet.GetProperty("groups")[0];
        group.GetProperty("elements").EnumerateArray().Select(each => each.GetProperty("name").GetString()).ShouldContain("nitrate nitrogen");
        group.GetProperty("ecWith").GetDouble().ShouldBeGreaterThan(0);
        group.GetProperty("elements").EnumerateArray().ShouldContain(each => each.GetProperty("moves").GetBoolean());
        group.GetProperty("broken").ValueKind.ShouldBe(JsonValueKind.Array);
        sheet.GetProperty("costWith").GetDouble().ShouldBeGreaterThan(0);
        (await Client.GetAsync($"/api/products/{Guid.CreateVersion7()}/without", Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await Client.GetStringAsync($"/cupboard/{id}/without", Cancel)).ShouldContain("class=\"thumb\"");
    }

    [Fact]
    public async Task A_long_search_stops_at_its_next_report_when_whoever_asked_has_left()
    {
        // At the desk: a client that has left learns nothing of what the server does.
        var desk = demo.Program.Services.GetRequiredService<ISubstituteDesk>();
        var id = (await ProductAsync("calcium nitrate")).GetProperty("id").GetGuid();
        using var leaving = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        var reports = new Leaves(leaving);
        await Should.ThrowAsync<OperationCanceledException>(() => desk.BuyAsync(id, new SubstituteChoices { TimeLimit = TimeSpan.FromSeconds(60), MostCans = 3 }, reports, leaving.Token));
        reports.Told.ShouldBePositive();
    }

    private sealed class Leaves(CancellationTokenSource leaving) : IProgress<PlanProgress>
    {
        public int Told { get; private set; }

        public void Report(PlanProgress value)
        {
            Told++;
            leaving.Cancel();
        }
    }

    [Fact]
    public async Task A_new_brand_goes_from_label_to_test_can_over_HTTP_and_its_page_takes_up_where_it_stands()
    {
        var begun = await (await Client.PostAsJsonAsync("/api/entries", new { name = "house feed 15-5-15", labelText = "N 15 %\nnitrate nitrogen 14 %\nammoniacal nitrogen 1 %\nP2O5 5 %\nK2O 15 %" }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        var id = begun.GetProperty("id").GetString();
        begun.GetProperty("madeOf").GetArrayLength().ShouldBeGreaterThan(1);
        var water = (await Client.GetFromJsonAsync<JsonElement>("/api/waters", Cancel)).EnumerateArray().First(each => each.GetProperty("name").GetString()!.Contains("rain", StringComparison.OrdinalIgnoreCase)).GetProperty("id").GetString();
        var planned = await (await Client.PostAsJsonAsync($"/api/entries/{id}/test", new { waterId = water, gramsPerLitre = 1, litres = 2 }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        var expected = planned.GetProperty("test").GetProperty("ec").GetProperty("value").GetDouble();

        // In mS/cm where µS/cm are meant, and a pH without its point.
        foreach (var (body, meant) in new (object, string)[] { (new { ecMicrosiemensPerCm = expected / 1000 }, "was probably meant"), (new { pH = 65 }, "6.5 was probably meant") })
        {
            var refused = await Client.PostAsJsonAsync($"/api/entries/{id}/reading", body, Cancel);
            refused.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
            (await refused.Content.ReadAsStringAsync(Cancel)).ShouldContain(meant);
        }

        var read = await (await Client.PostAsJsonAsync($"/api/entries/{id}/reading", new { ecMicrosiemensPerCm = 0.8 * expected, pH = 6.0 }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        read.GetProperty("test").GetProperty("ecAgrees").GetBoolean().ShouldBeFalse();
        read.GetProperty("corrections").EnumerateArray().ShouldContain(words => words.GetString()!.Contains("of what the label says"));
        (await Client.PostAsJsonAsync($"/api/entries/{id}/look", new { clear = true }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest, "haze may need a day");
        var page = await Client.GetStringAsync($"/cupboard/entries/{id}", Cancel);
        page.ShouldContain("id=\"test\"");
        page.ShouldContain("id=\"unseen\"");
        (await Client.GetStringAsync("/cupboard/entries", Cancel)).ShouldContain("House feed 15-5-15");

        // The same name with another analysis is a changed label.
        var known = await ProductAsync("14-4-12");
        var preview = await (await Client.PostAsJsonAsync("/api/entries/preview", new { name = known.GetProperty("name").GetString(), labelText = "N 12 %\nnitrate nitrogen 12 %\nP2O5 4 %\nK2O 20 %" }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        preview.GetProperty("words").GetString()!.ShouldContain("has changed");
    }

    [Fact]
    public async Task Two_products_stand_side_by_side_at_an_equal_element_or_EC()
    {
        var (one, other) = ((await ProductAsync("potassium nitrate")).GetProperty("id").GetString(), (await ProductAsync("calcium nitrate")).GetProperty("id").GetString());
        var sheet = await Client.GetFromJsonAsync<JsonElement>($"/api/products/{one}/beside/{other}?ecMicrosiemensPerCm=800", Cancel);
        sheet.GetProperty("one").GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(800, 2);
        sheet.GetProperty("other").GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(800, 2);
        (await Client.GetAsync($"/api/products/{one}/beside/{other}", Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await Client.GetStringAsync("/cupboard/compare", Cancel)).ShouldContain("id=\"one\"");
    }

    [Fact]
    public async Task The_waters_year_and_the_rain_budget()
    {
        var year = await Client.GetFromJsonAsync<JsonElement>("/api/waters/year", Cancel);
        year.GetProperty("months").GetArrayLength().ShouldBeInRange(3, 5);
        var rain = await Client.GetFromJsonAsync<JsonElement>("/api/waters/rain", Cancel);
        rain.GetProperty("missing").GetArrayLength().ShouldBeGreaterThan(0);
        var water = rain.GetProperty("waterId").GetGuid();
        (await Client.PostAsJsonAsync("/api/waters/roof", new { waterId = water, roofSquareMetres = 6, barrelLitres = 200 }, Cancel)).EnsureSuccessStatusCode();
        (await Client.PostAsJsonAsync($"/api/waters/{water}/level", new { litres = 120 }, Cancel)).EnsureSuccessStatusCode();
        var csv = string.Join('\n', Enumerable.Range(0, 800).Select(i => FormattableString.Invariant($"{DateOnly.FromDateTime(DateTime.UtcNow).AddDays(i - 800):yyyy-MM-dd},{(i % 3 == 0 ? 5.5 : 0)}")));
        (await Client.PostAsJsonAsync("/api/waters/rain", new { csv, write = true }, Cancel)).EnsureSuccessStatusCode();
        var budget = await Client.GetFromJsonAsync<JsonElement>("/api/waters/rain", Cancel);
        budget.GetProperty("missing").GetArrayLength().ShouldBe(0);
        budget.GetProperty("levels").GetArrayLength().ShouldBe(90);
        budget.GetProperty("levels")[0].GetProperty("litres").GetProperty("high").GetDouble().ShouldBeLessThanOrEqualTo(200);
        var page = await Client.GetStringAsync("/water/year", Cancel);
        page.ShouldContain("id=\"rain\"");
        page.ShouldContain("id=\"acid\"");
        (await Client.GetAsync("/api/waters/rain?days=4", Cancel)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
    }
}
