using System.Net;
using System.Net.Http.Json;
using System.Text.Json;

namespace Rootwater.Web.Tests;

/// <summary>Cans with what was expected and what was read, and the pens, on the demo bench: as pages and over HTTP.</summary>
public sealed class CansTests(CansTests.Demo demo) : IClassFixture<CansTests.Demo>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>One program for all of them.</summary>
    public sealed class Demo : IDisposable
    {
        public WebProgram Program { get; } = new();

        public void Dispose() => Program.Dispose();
    }

    [Fact]
    public async Task Every_kept_can_is_listed_with_both_readings_beside_what_was_expected()
    {
        using var client = demo.Program.CreateClient();
        var view = await client.GetFromJsonAsync<JsonElement>("/api/cans/history?most=10", Cancel);
        var lines = view.GetProperty("lines");
        lines.GetArrayLength().ShouldBe(10);
        var (kept, read) = (view.GetProperty("cans").GetInt32(), view.GetProperty("read").GetInt32());
        read.ShouldBeInRange(10, kept);
        var line = lines[0];
        line.GetProperty("measuredEc").GetDouble().ShouldBe(line.GetProperty("ecAsLearned").GetProperty("value").GetDouble(), 0.15 * line.GetProperty("measuredEc").GetDouble());

        var page = await client.GetStringAsync("/cans", Cancel);
        page.ShouldContain($"{kept} cans kept, {read} of them read");
        page.ShouldContain($"/cans/{line.GetProperty("canId").GetString()}");
        var one = await client.GetStringAsync($"/cans/{line.GetProperty("canId").GetString()}", Cancel);
        one.ShouldContain("its mixing card");
        one.ShouldContain("What would explain it");
        (await client.GetAsync($"/api/cans/{Guid.CreateVersion7()}/explanations", Cancel)).StatusCode.ShouldBe(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task A_pen_is_kept_held_into_its_standard_and_refused_with_what_was_meant()
    {
        using var client = demo.Program.CreateClient();
        var kept = await (await client.PostAsJsonAsync("/api/pens", new { name = "blue pen", kind = "pH" }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        var id = kept.GetProperty("pen").GetProperty("id").GetGuid();
        kept.GetProperty("isDue").GetBoolean().ShouldBeTrue();

        var wrong = await client.PostAsJsonAsync($"/api/pens/{id}/calibrations", new { standards = new[] { new { standardAt25 = 7.0, reading = 70.4, temperatureCelsius = 20.0 } } }, Cancel);
        wrong.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
        (await wrong.Content.ReadAsStringAsync(Cancel)).ShouldContain("7.04 was probably meant");

        var right = await client.PostAsJsonAsync($"/api/pens/{id}/calibrations", new { standards = new[] { new { standardAt25 = 7.0, reading = 7.10, temperatureCelsius = 20.0 } }, adjusted = true }, Cancel);
        right.StatusCode.ShouldBe(HttpStatusCode.OK);
        var log = (await right.Content.ReadFromJsonAsync<JsonElement>(Cancel)).GetProperty("log")[0].GetProperty("standards")[0];
        // The 7.00 buffer is 7.02 at 20 °C, as its bottle prints it (from memory).
        log.GetProperty("expected").GetDouble().ShouldBe(7.02, 1e-9);
        log.GetProperty("off").GetDouble().ShouldBe(0.08, 1e-9);
        var page = await client.GetStringAsync("/pens", Cancel);
        page.ShouldContain("blue pen");
        page.ShouldContain("7.10");
    }

    [Fact]
    public async Task A_can_more_is_weighed_against_the_wants_it_leaves()
    {
        using var client = demo.Program.CreateClient();
        var points = await (await client.PostAsJsonAsync("/api/plan/tradeoff", new { mostCans = 2, timeLimitSeconds = 2 }, Cancel)).Content.ReadFromJsonAsync<JsonElement>(Cancel);
        points.GetArrayLength().ShouldBeInRange(1, 2);
        points[0].GetProperty("mostCans").GetInt32().ShouldBe(1);
        var outside = points.EnumerateArray().Select(point => point.GetProperty("outside").ToString()).ToList();
        outside.Count.ShouldBe(points.GetArrayLength());
        if (points.GetArrayLength() == 2)
        {
            points[1].GetProperty("outside").GetDouble().ShouldBeLessThanOrEqualTo(points[0].GetProperty("outside").GetDouble() + 1e-9, "fewer cans are always allowed");
        }
        else
        {
            points[0].GetProperty("allMet").GetBoolean().ShouldBeTrue();
        }
    }
}
