using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>Cause sheets, the year ahead and what was tried over HTTP and as pages, on a real database with the demo bench.</summary>
public sealed class CauseApiTests(PlantApiProgram program) : IClassFixture<PlantApiProgram>
{
    private readonly HttpClient _client = program.Client;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_sheet_is_asked_for_looked_at_settled_and_judged()
    {
        var plant = await PlantAsync(2);
        var asked = await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/causes?pattern=even-yellow&leaf-age=oldest", Cancel);
        asked.GetProperty("result").GetProperty("causes")[0].GetProperty("id").GetString().ShouldBe("ageing");

        var kept = await ReadAsync(await PostAsync($"/api/plants/{plant}/causes", """{"answers":{"pattern":"streaks","leaf-age":"newest"}}"""), HttpStatusCode.OK);
        kept.GetProperty("result").GetProperty("causes")[0].GetProperty("id").GetString().ShouldBe("virus");
        kept.GetProperty("result").GetProperty("quarantine").GetString()!.ShouldContain("virus");
        (await PostAsync($"/api/plants/{plant}/causes/quarantine", "{}")).StatusCode.ShouldBe(HttpStatusCode.NoContent);
        (await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}/causes", Cancel)).GetProperty("keptApart").GetBoolean().ShouldBeTrue();

        var sheet = kept.GetProperty("sheetId").GetGuid();
        var settled = await ReadAsync(await PostAsync($"/api/causes/{sheet}/settled", """{"cause":"virus","evidence":"strip"}"""), HttpStatusCode.OK);
        settled.GetProperty("rank").GetInt32().ShouldBe(1);
        (await _client.GetFromJsonAsync<JsonElement>("/api/causes", Cancel)).GetProperty("hits").GetProperty("first").GetInt32().ShouldBe(1);
        (await _client.GetStringAsync("/causes", Cancel)).ShouldContain("right in 1 of 1 settled sheets");
    }

    [Fact]
    public async Task What_cannot_be_is_named()
    {
        var plant = await PlantAsync(3);
        var refused = await ReadAsync(await _client.GetAsync($"/api/plants/{plant}/causes?speed=slow", Cancel), HttpStatusCode.BadRequest);
        refused.GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe("speed");
        (await PostAsync($"/api/causes/{Guid.CreateVersion7()}/settled", """{"cause":"virus","evidence":"strip"}""")).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await _client.GetAsync($"/api/plants/{Guid.CreateVersion7()}/tried", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task The_pages_open_and_say_what_they_are_not()
    {
        var number = (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel))[4].GetProperty("number").GetInt32();
        (await _client.GetStringAsync($"/plants/{number}/causes", Cancel)).ShouldContain("does not diagnose");
        (await _client.GetStringAsync($"/plants/{number}/tried", Cancel)).ShouldContain("What it was mixed from");
        (await _client.GetStringAsync($"/plants/{number}", Cancel)).ShouldContain($"/plants/{number}/causes");
        (await _client.GetStringAsync("/year", Cancel)).ShouldContain("What to expect");
        (await _client.GetFromJsonAsync<JsonElement>("/api/year/forecast", Cancel)).GetProperty("method").GetArrayLength().ShouldBeGreaterThan(3);
    }

    private async Task<Guid> PlantAsync(int index) => (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel))[index].GetProperty("id").GetGuid();

    private Task<HttpResponseMessage> PostAsync(string path, string json) => _client.PostAsync(path, new StringContent(json, System.Text.Encoding.UTF8, "application/json"), Cancel);

    private static async Task<JsonElement> ReadAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        var body = await answer.Content.ReadAsStringAsync(Cancel);
        answer.StatusCode.ShouldBe(status, body);
        return JsonDocument.Parse(body).RootElement;
    }
}
