using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>Facts over HTTP, on a real database with the demo bench: as the phone sends them.</summary>
public sealed class PlantApiTests(PlantApiProgram program) : IClassFixture<PlantApiProgram>
{
    private readonly HttpClient _client = program.Client;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_growth_and_a_leaf_are_entered_and_show_on_the_plant()
    {
        var plant = await PlantAsync(0);
        var (growth, leaf) = (Guid.CreateVersion7(), Guid.CreateVersion7());
        var facts = $$"""
            [
              {"id":"{{Guid.CreateVersion7()}}","kind":"growth.seen","subjectId":"{{plant}}","payload":{"plantId":"{{plant}}","growthId":"{{growth}}","number":1,"form":"stem","thereOnArrival":true} },
              {"id":"{{Guid.CreateVersion7()}}","kind":"leaf.seen","subjectId":"{{plant}}","sequence":7,
               "payload":{"plantId":"{{plant}}","growthId":"{{growth}}","leafId":"{{leaf}}","position":3,"thereOnArrival":false} }
            ]
            """;

        (await ReadAsync(await PostAsync("/api/facts?who=me&device=phone", facts), HttpStatusCode.OK)).GetProperty("written").GetInt32().ShouldBe(2);
        (await ReadAsync(await PostAsync("/api/facts?who=me&device=phone", facts), HttpStatusCode.OK)).GetProperty("alreadyThere").GetInt32().ShouldBe(2);

        var life = await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}", Cancel);
        life.GetProperty("growths")[0].GetProperty("leaves")[0].GetProperty("position").GetInt32().ShouldBe(3);
        life.GetProperty("card").GetProperty("livingLeaves").GetInt32().ShouldBe(1);
        var number = life.GetProperty("card").GetProperty("number").GetInt32();
        (await _client.GetFromJsonAsync<JsonElement>($"/api/plants/number/{number}", Cancel)).GetProperty("card").GetProperty("id").GetGuid().ShouldBe(plant);
    }

    [Fact]
    public async Task A_name_is_read_by_the_codes_and_comes_in_parts()
    {
        var name = await _client.GetFromJsonAsync<JsonElement>("/api/names?text=" + Uri.EscapeDataString("Phal. sumatrana x tetraspis 'Red'"), Cancel);

        name.GetProperty("text").GetString().ShouldBe("Phalaenopsis sumatrana × Phalaenopsis tetraspis 'Red'");
        name.GetProperty("sort").GetString().ShouldBe("formula");
        name.GetProperty("parents")[1].GetString().ShouldBe("Phalaenopsis tetraspis 'Red'");
        string.Concat(name.GetProperty("parts").EnumerateArray().Where(part => part.GetProperty("isItalic").GetBoolean()).Select(part => part.GetProperty("text").GetString()))
            .ShouldBe("Phalaenopsis sumatranaPhalaenopsis tetraspis");
        name.GetProperty("findings").EnumerateArray().Select(finding => finding.GetProperty("fault").GetString()).ShouldBe(["abbreviationExpanded", "genusOmittedInFormula"]);
    }

    [Fact]
    public async Task A_reading_is_dated_shown_among_the_recent_and_taken_back()
    {
        var plant = await PlantAsync(1);
        var id = Guid.CreateVersion7();
        await ReadAsync(await PostAsync("/api/facts", $$"""
            [{"id":"{{id}}","kind":"reading.taken","subjectId":"{{plant}}","when":{"minute":"2026-01-14T08:05"},
              "payload":{"readingId":"{{Guid.CreateVersion7()}}","of":"reservoir","plantId":"{{plant}}","pH":6.4,"ecMicrosiemensPerCm":1100} }]
            """), HttpStatusCode.OK);

        var line = (await _client.GetFromJsonAsync<JsonElement>("/api/facts/recent", Cancel)).EnumerateArray().Single(fact => fact.GetProperty("id").GetGuid() == id);
        line.GetProperty("words").GetString().ShouldBe("reservoir: EC 1.10 mS/cm, pH 6.4");
        line.GetProperty("when").GetProperty("minute").GetString().ShouldBe("2026-01-14T08:05");
        line.GetProperty("canBeUndone").GetBoolean().ShouldBeTrue();

        (await PostAsync($"/api/facts/{id}/undo", $$"""{"id":"{{Guid.CreateVersion7()}}","why":"another pot"}""")).StatusCode.ShouldBe(HttpStatusCode.NoContent);
        (await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{plant}", Cancel)).GetProperty("readings").GetArrayLength().ShouldBe(0);
    }

    [Theory]
    [InlineData("""{"id":"@","kind":"plant.sung.to","subjectId":"#","payload":{}}""", "kind")]
    [InlineData("""{"id":"@","kind":"plant.noted","subjectId":"#","payload":{"plantId":"#","txt":"misspelt"}}""", "payload.txt")]
    [InlineData("""{"id":"@","kind":"plant.given","subjectId":"#","payload":{"plantId":"#","what":"milk","millilitres":5}}""", "payload.what")]
    [InlineData("""{"id":"@","kind":"plant.noted","subjectId":"#","payload":{"plantId":"#","text":"hm"},"when":{"day":"14.3.2026"}}""", "when")]
    [InlineData("""{"id":"@","kind":"plant.noted","subjectId":"#","payload":{"plantId":"#","text":"hm"},"when":{"day":"2026-01-14","year":"2026"}}""", "when")]
    [InlineData("""{"id":"@","kind":"plant.given","subjectId":"#","payload":{"plantId":"#","what":"plainWater","millilitres":50000}}""", "millilitres")]
    public async Task What_cannot_be_kept_is_a_problem_that_names_the_field(string fact, string field)
    {
        var plant = await PlantAsync(2);
        var body = "[" + fact.Replace("@", Guid.CreateVersion7().ToString(), StringComparison.Ordinal).Replace("#", plant.ToString(), StringComparison.Ordinal) + "]";

        var problem = await ReadAsync(await PostAsync("/api/facts", body), HttpStatusCode.BadRequest);

        problem.GetProperty("problems").EnumerateArray().Select(each => each.GetProperty("field").GetString()).ShouldContain(field);
    }

    [Fact]
    public async Task The_bench_is_listed_filtered_and_reckoned()
    {
        (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel)).GetArrayLength().ShouldBe(36);
        (await _client.GetFromJsonAsync<JsonElement>("/api/plants?state=inSpike", Cancel)).GetArrayLength().ShouldBeInRange(1, 20);
        (await _client.GetFromJsonAsync<JsonElement>("/api/places", Cancel)).GetArrayLength().ShouldBe(4);
        (await _client.GetFromJsonAsync<JsonElement>("/api/plants/next-number", Cancel)).GetProperty("number").GetInt32().ShouldBeGreaterThanOrEqualTo(37);
        var weeks = await _client.GetFromJsonAsync<JsonElement>($"/api/plants/{await PlantAsync(3)}/nutrients", Cancel);
        weeks[0].GetProperty("milligrams").GetProperty("potassium").GetDouble().ShouldBeGreaterThan(1);
        (await _client.GetAsync($"/api/plants/{Guid.CreateVersion7()}", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
    }

    private async Task<Guid> PlantAsync(int index) => (await _client.GetFromJsonAsync<JsonElement>("/api/plants", Cancel))[index].GetProperty("id").GetGuid();

    private Task<HttpResponseMessage> PostAsync(string path, string json) => _client.PostAsync(path, new StringContent(json, Encoding.UTF8, "application/json"), Cancel);

    private static async Task<JsonElement> ReadAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        var text = await answer.Content.ReadAsStringAsync(Cancel);
        answer.StatusCode.ShouldBe(status, text);
        return JsonSerializer.Deserialize<JsonElement>(text);
    }
}

/// <summary>One program for all statements about the API of plants.</summary>
public sealed class PlantApiProgram : IDisposable
{
    private readonly WebProgram _program = new();

    public PlantApiProgram() => Client = _program.CreateClient();

    public HttpClient Client { get; }

    public void Dispose() => _program.Dispose();
}
