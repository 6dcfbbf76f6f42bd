using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>What cannot be, sent over HTTP to the demo bench: each is refused by field with the way out, and nothing of it is kept.</summary>
public sealed class BadInputTests(BadInputTests.Demo demo) : IClassFixture<BadInputTests.Demo>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>One program for all of them.</summary>
    public sealed class Demo : IDisposable
    {
        public WebProgram Program { get; } = new();

        public void Dispose() => Program.Dispose();
    }

    [Theory]
    [InlineData("""{ "name": "mystery", "formula": "K2NQ3" }""", "formula")]
    [InlineData("""{ "name": "too pure", "formula": "KNO3", "purityPercent": 112 }""", "purity")]
    [InlineData("""{ "name": "less than none", "formula": "KNO3", "purityPercent": -4 }""", "purity")]
    [InlineData("""{ "name": "dear", "formula": "KNO3", "pricePerKg": -1 }""", "price")]
    [InlineData("""{ "name": "too much of a good thing", "labelText": "N 60 %, P2O5 60 %" }""", "analysis")]
    [InlineData("""{ "name": "by the litre", "labelText": "SiO2 196 g/L" }""", "density")]
    [InlineData("""{ "name": "how heavy?", "acid": { "formula": "H3PO4", "percentByWeight": 24 } }""", "density")]
    [InlineData("""{ "name": "lead", "acid": { "formula": "H3PO4", "percentByWeight": 24 }, "densityKgPerLitre": 11.3 }""", "density")]
    [InlineData("""{ "name": "vague", "labelText": "N 13.8 %, K2O 46.5 %", "tolerancePercent": 80 }""", "tolerance")]
    public async Task A_product_that_cannot_be_is_refused_by_field_and_not_kept(string body, string field)
    {
        using var client = demo.Program.CreateClient();
        var before = await client.GetStringAsync("/api/products", Cancel);

        (await RefusedAsync(client, "/api/products", body)).ShouldContain(field);

        (await client.GetStringAsync("/api/products", Cancel)).ShouldBe(before);
    }

    [Theory]
    // Ten times too much sulfate for what else a full report names, all main ions given.
    [InlineData("""{"what":"Ca","value":10,"unit":"mg/L"},{"what":"Mg","value":1,"unit":"mg/L"},{"what":"Na","value":1,"unit":"mg/L"},{"what":"K","value":1,"unit":"mg/L"},{"what":"Cl","value":5,"unit":"mg/L"},{"what":"SO4","value":400,"unit":"mg/L"},{"what":"NO3","value":1,"unit":"mg/L"},{"what":"alkalinity","value":0.3,"unit":"meq/L"}""", "charges")]
    [InlineData("""{"what":"EC","value":560,"unit":"µS/cm"},{"what":"pH","value":15,"unit":""}""", "pH")]
    [InlineData("""{"what":"EC","value":560,"unit":"µS/cm"},{"what":"pH","value":-1,"unit":""}""", "pH")]
    [InlineData("""{"what":"Ca","value":-40,"unit":"mg/L"}""", "calcium")]
    [InlineData("""{"what":"Ca","value":900000,"unit":"mg/L"}""", "calcium")]
    [InlineData("""{"what":"EC","value":260,"unit":"ppm"}""", "EC unit")]
    public async Task A_water_that_cannot_be_is_refused_by_field_and_not_kept(string values, string field)
    {
        using var client = demo.Program.CreateClient();
        var water = (await client.GetFromJsonAsync<JsonElement>("/api/waters", Cancel))[0].GetProperty("id").GetGuid();
        var before = await client.GetStringAsync($"/api/waters/{water}", Cancel);
        var body = $$"""{ "waterId": "{{water}}", "sampledOn": "2026-11-01", "values": [{{values}}] }""";

        (await RefusedAsync(client, "/api/reports", body)).ShouldContain(field);

        // The page asks the same desk what a report would come to before it keeps it.
        var preview = await (await client.PostAsync("/api/reports/preview", Json(body), Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        preview.GetProperty("problems").EnumerateArray().Select(problem => problem.GetProperty("field").GetString()).ShouldContain(field);
        (await client.GetStringAsync($"/api/waters/{water}", Cancel)).ShouldBe(before);
    }

    [Theory]
    [InlineData("""{ "pH": 14.5 }""", "pH")]
    [InlineData("""{ "pH": -0.1 }""", "pH")]
    [InlineData("""{ "ecMicrosiemensPerCm": -3 }""", "EC")]
    [InlineData("""{ "ecMicrosiemensPerCm": 500000 }""", "EC")]
    public async Task A_reading_no_pen_shows_is_refused_by_field_and_not_kept(string body, string field)
    {
        using var client = demo.Program.CreateClient();
        var can = (await client.GetFromJsonAsync<JsonElement>("/api/cans/history?most=1", Cancel)).GetProperty("lines")[0].GetProperty("canId").GetGuid();
        var before = await client.GetStringAsync($"/api/cans/{can}", Cancel);

        (await RefusedAsync(client, $"/api/cans/{can}/readings", body)).ShouldContain(field);

        (await client.GetStringAsync($"/api/cans/{can}", Cancel)).ShouldBe(before);
    }

    private static StringContent Json(string body) => new(body, System.Text.Encoding.UTF8, "application/json");

    private static async Task<List<string>> RefusedAsync(HttpClient client, string path, string body)
    {
        var answer = await client.PostAsync(path, Json(body), Cancel);
        var text = await answer.Content.ReadAsStringAsync(Cancel);
        answer.StatusCode.ShouldBe(HttpStatusCode.BadRequest, text);
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("application/problem+json");
        text.ShouldNotContain("   at ");
        var problems = JsonDocument.Parse(text).RootElement.GetProperty("problems").EnumerateArray().ToList();
        problems.ShouldAllBe(problem => problem.GetProperty("accepted").GetString()!.Length > 5);
        return [.. problems.Select(problem => problem.GetProperty("field").GetString()!)];
    }
}
