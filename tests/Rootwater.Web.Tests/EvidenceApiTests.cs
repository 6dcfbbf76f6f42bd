using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>Evidence and trials over HTTP and as pages, on a real database with the demo bench.</summary>
public sealed class EvidenceApiTests(PlantApiProgram program) : IClassFixture<PlantApiProgram>
{
    private readonly HttpClient _client = program.Client;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("lives")]
    [InlineData("rates")]
    [InlineData("drivers")]
    [InlineData("growth")]
    [InlineData("series")]
    [InlineData("sisters")]
    public async Task Every_answer_names_its_method_its_assumptions_and_n_one_tap_away(string ask)
    {
        var since = ask is "sisters" or "rates" ? "&since=" + Day(-40) : "";
        var answer = await _client.GetFromJsonAsync<JsonElement>($"/api/evidence/{ask}?kind=Cattleya{since}", Cancel);
        var basis = answer.GetProperty("basis");
        basis.GetProperty("method").GetString()!.Length.ShouldBeGreaterThan(10);
        basis.GetProperty("assumptions").GetArrayLength().ShouldBeGreaterThan(0);

        var page = await _client.GetStringAsync($"/evidence?ask={ask}&kind=Cattleya{since}", Cancel);
        page.ShouldContain("<details class=\"basis\"><summary>Method, assumptions, n");
        page.ShouldContain(WebUtility.HtmlEncode(basis.GetProperty("assumptions")[0].GetString())!);
        page.ShouldContain("aria-current=\"true\"");
    }

    [Fact]
    public async Task A_plant_has_pages_of_its_own_and_what_cannot_be_asked_is_named()
    {
        (await _client.GetStringAsync("/plants/1/evidence", Cancel)).ShouldContain("class=\"basis\"");
        (await _client.GetStringAsync("/plants/1/evidence?ask=next", Cancel)).ShouldContain("class=\"basis\"");
        (await _client.GetFromJsonAsync<JsonElement>("/api/evidence/next-leaf/1", Cancel)).GetProperty("basis").GetProperty("method").GetString().ShouldNotBeNullOrEmpty();
        (await _client.GetFromJsonAsync<JsonElement>("/api/evidence/changes", Cancel)).ValueKind.ShouldBe(JsonValueKind.Array);
        (await _client.GetFromJsonAsync<JsonElement>("/api/evidence/kinds?since=" + Day(-40), Cancel)).GetProperty("basis").GetProperty("method").GetString()!.ShouldContain("Benjamini");
        foreach (var (path, field) in new[] { ("/api/evidence/lives?plant=9999", "number"), ("/api/evidence/drivers?kind=Vanda", "kind"), ("/api/evidence/rates?since=1999-01-01", "since"), ("/api/evidence/series?of=weather", "of"), ("/api/evidence/growth?kind=Vanda", "kind") })
        {
            var refused = await ReadAsync(await _client.GetAsync(path, Cancel), HttpStatusCode.BadRequest);
            refused.GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe(field, path);
        }

        (await _client.GetStringAsync("/evidence?kind=Vanda", Cancel)).ShouldContain("a kind on this bench");
    }

    [Fact]
    public async Task A_trial_is_planned_registered_looked_at_for_a_price_and_stopped_with_its_result()
    {
        (await _client.GetStringAsync("/trials", Cancel)).ShouldContain("/trials/new");
        (await _client.GetStringAsync("/trials/new", Cancel)).ShouldContain("id=\"question\"");
        const string plan = """{"question":"Does it keep leaves on?","arms":[{"name":"A","gets":"as before"},{"name":"B","gets":"the other can"}],"plants":[1,2,3,4,5,6,7,8],"outcomes":["leafLoss"],"months":12,"runs":100}""";
        (await ReadAsync(await PostAsync("/api/trials/plan", plan), HttpStatusCode.OK)).GetProperty("power").GetDouble().ShouldBeInRange(0, 1);

        var trial = await ReadAsync(await PostAsync("/api/trials", plan), HttpStatusCode.Created);
        var id = trial.GetProperty("id").GetGuid();
        trial.GetProperty("seats").GetArrayLength().ShouldBe(8);
        trial.GetProperty("basis").ValueKind.ShouldBe(JsonValueKind.Null, "it has no result yet");
        (await ReadAsync(await PostAsync("/api/trials", plan), HttpStatusCode.BadRequest)).GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe("plants");
        (await _client.GetFromJsonAsync<JsonElement>("/api/trials/arms", Cancel)).EnumerateObject().Count().ShouldBe(8);
        (await ReadAsync(await _client.GetAsync($"/api/trials/{id}/look", Cancel), HttpStatusCode.BadRequest)).GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe("trial");
        (await ReadAsync(await PostAsync($"/api/trials/{id}/end", "{}"), HttpStatusCode.BadRequest)).ToString().ShouldContain("only be stopped");
        (await ReadAsync(await PostAsync($"/api/trials/{id}/departures", """{"what":"got the other can once","plant":3}"""), HttpStatusCode.OK)).GetProperty("departures").GetArrayLength().ShouldBe(1);
        var stopped = await ReadAsync(await PostAsync($"/api/trials/{id}/stop", """{"why":"the shelf is needed"}"""), HttpStatusCode.OK);
        stopped.GetProperty("basis").GetProperty("assumptions").GetArrayLength().ShouldBeGreaterThan(1);

        (await _client.GetStringAsync("/trials", Cancel)).ShouldContain("Does it keep leaves on?");
        var page = await _client.GetStringAsync($"/trials/{id}", Cancel);
        page.ShouldContain("the shelf is needed");
        page.ShouldContain("got the other can once");
        page.ShouldContain("class=\"basis\"");
        (await _client.GetAsync($"/api/trials/{Guid.CreateVersion7()}", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
    }

    private static string Day(int ago) => DateTime.UtcNow.AddDays(ago).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    private Task<HttpResponseMessage> PostAsync(string path, string json) => _client.PostAsync(path, new StringContent(json, System.Text.Encoding.UTF8, "application/json"), Cancel);

    private static async Task<JsonElement> ReadAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        var body = await answer.Content.ReadAsStringAsync(Cancel);
        answer.StatusCode.ShouldBe(status, body);
        return JsonDocument.Parse(body).RootElement;
    }
}
