using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Rootwater.Ledger;

namespace Rootwater.Web.Tests;

/// <summary>The same jobs over HTTP; what goes wrong is problem+json that names the field.</summary>
public sealed class ApiTests : IDisposable
{
    private readonly FixtureBench _bench = new() { PlanTakes = TimeSpan.Zero };
    private readonly WebProgram _program;
    private readonly HttpClient _client;

    public ApiTests()
    {
        _program = WebProgram.On(_bench);
        _client = _program.CreateClient();
    }

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_plan_is_made_a_can_kept_ticked_and_read()
    {
        var plan = await (await _client.PostAsJsonAsync("/api/plan", new { mostCans = 2 }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        var can = plan.GetProperty("plan").GetProperty("cans")[0];
        can.GetProperty("steps")[0].GetProperty("what").GetString().ShouldBe("Rain barrel");
        can.GetProperty("mgPerLitre").GetProperty("nitrateNitrogen").GetDouble().ShouldBe(70);

        // What the plan answers is what keeping a can takes: no client has to rebuild it.
        var kept = await _client.PostAsJsonAsync("/api/cans", can, Cancel);
        kept.StatusCode.ShouldBe(HttpStatusCode.Created);
        var id = (await kept.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("id").GetGuid();
        (await _client.PostAsync($"/api/cans/{id}/steps/1/done", null, Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
        (await _client.PostAsJsonAsync($"/api/cans/{id}/readings", new { ecMicrosiemensPerCm = 710.0, pH = 6.3 }, Cancel)).StatusCode.ShouldBe(HttpStatusCode.OK);
        var after = await _client.GetFromJsonAsync<JsonElement>($"/api/cans/{id}", Cancel);
        after.GetProperty("doneSteps")[0].GetInt32().ShouldBe(1);
        after.GetProperty("readings")[0].GetProperty("ecMicrosiemensPerCm").GetDouble().ShouldBe(710);
        (await _client.GetFromJsonAsync<JsonElement>($"/api/cans/{id}/judgement", Cancel)).GetProperty("agrees").GetBoolean().ShouldBeFalse();
    }

    [Fact]
    public async Task Every_field_out_of_range_is_named()
    {
        var answer = await _client.PostAsJsonAsync("/api/plan", new { mostCans = 9, canTemperatureC = 90 }, Cancel);
        (await ProblemAsync(answer, HttpStatusCode.BadRequest)).GetProperty("problems").EnumerateArray().Select(problem => problem.GetProperty("field").GetString()).ShouldBe(["mostCans", "canTemperatureC"]);
    }

    [Theory]
    [InlineData("{\"mostCan\": 2}", "mostCan")]
    [InlineData("{\"mostCans\": \"two\"}", "mostCans")]
    [InlineData("{", "body")]
    public async Task A_field_that_is_misspelt_or_of_the_wrong_kind_is_named(string body, string field)
    {
        var answer = await _client.PostAsync("/api/plan", new StringContent(body, System.Text.Encoding.UTF8, "application/json"), Cancel);
        (await ProblemAsync(answer, HttpStatusCode.BadRequest)).GetProperty("problems")[0].GetProperty("field").GetString().ShouldBe(field);
    }

    [Theory]
    [InlineData("/api/cans/01900000-0000-7000-8000-00000000dead")]
    [InlineData("/api/products/01900000-0000-7000-8000-00000000dead")]
    [InlineData("/api/waters/01900000-0000-7000-8000-00000000dead")]
    [InlineData("/api/nothing")]
    public async Task What_is_not_there_is_a_problem_and_not_a_page(string path) => await ProblemAsync(await _client.GetAsync(path, Cancel), HttpStatusCode.NotFound);

    [Fact]
    public async Task A_ledger_that_fails_is_said_with_its_fault()
    {
        _bench.Fault = new LedgerProblem(LedgerFault.DiskFull, "The disk is full. Make room.");
        var problem = await ProblemAsync(await _client.GetAsync("/api/health", Cancel), HttpStatusCode.ServiceUnavailable);
        problem.GetProperty("fault").GetString().ShouldBe("DiskFull");
        problem.GetProperty("detail").GetString().ShouldBe("The disk is full. Make room.");
    }

    [Fact]
    public async Task A_fault_nobody_foresaw_shows_nothing_of_its_insides()
    {
        _bench.Fault = new InvalidOperationException("inner workings");
        var answer = await _client.GetAsync("/api/products", Cancel);
        await ProblemAsync(answer, HttpStatusCode.InternalServerError);
        (await answer.Content.ReadAsStringAsync(Cancel)).ShouldNotContain("inner workings");
    }

    private static async Task<JsonElement> ProblemAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        answer.StatusCode.ShouldBe(status);
        answer.Content.Headers.ContentType!.MediaType.ShouldBe("application/problem+json");
        return await answer.Content.ReadFromJsonAsync<JsonElement>(Cancel);
    }

    public void Dispose() => _program.Dispose();
}
