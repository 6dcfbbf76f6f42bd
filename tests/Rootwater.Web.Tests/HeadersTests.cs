using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Mvc.Testing;
using Rootwater.Ledger;

namespace Rootwater.Web.Tests;

/// <summary>What every answer says to the browser, and who may write.</summary>
public sealed class HeadersTests : IDisposable
{
    private readonly FixtureBench _bench = new();
    private readonly WebProgram _program;

    public HeadersTests() => _program = WebProgram.On(_bench);

    private HttpClient Client() => _program.CreateClient(new WebApplicationFactoryClientOptions { AllowAutoRedirect = false });

    [Theory]
    [InlineData("/")]
    [InlineData("/mixing")]
    [InlineData("/css/rootwater.css")]
    [InlineData("/api/bench")]
    [InlineData("/nowhere")]
    public async Task Every_answer_is_strict_about_what_may_be_loaded(string path)
    {
        var answer = await Client().GetAsync(path, TestContext.Current.CancellationToken);
        var policy = answer.Headers.GetValues("Content-Security-Policy").ShouldHaveSingleItem();
        policy.ShouldContain("default-src 'none'");
        policy.ShouldContain("script-src 'self';");
        policy.ShouldContain("worker-src 'self';");
        policy.ShouldNotContain("unsafe");
        answer.Headers.GetValues("X-Content-Type-Options").ShouldBe(["nosniff"]);
        answer.Headers.GetValues("X-Frame-Options").ShouldBe(["DENY"]);
        answer.Headers.Contains("Server").ShouldBeFalse();
    }

    [Theory]
    [InlineData("/", "br")]
    [InlineData("/css/rootwater.css", "gzip")]
    [InlineData("/_framework/blazor.web.js", "gzip")]
    public async Task Pages_and_their_parts_travel_compressed(string path, string encoding)
    {
        var client = Client();
        client.DefaultRequestHeaders.AcceptEncoding.Add(new StringWithQualityHeaderValue(encoding));
        var answer = await client.GetAsync(path, TestContext.Current.CancellationToken);
        answer.StatusCode.ShouldBe(HttpStatusCode.OK);
        answer.Content.Headers.ContentEncoding.ShouldBe([encoding]);
    }

    [Fact]
    public async Task A_page_of_another_site_may_not_write()
    {
        var client = Client();
        client.DefaultRequestHeaders.Add("Sec-Fetch-Site", "cross-site");
        var answer = await client.PostAsync($"/api/cans/{Guid.CreateVersion7()}/poured", null, TestContext.Current.CancellationToken);
        answer.StatusCode.ShouldBe(HttpStatusCode.Forbidden);
    }

    [Fact]
    public async Task A_name_that_is_not_this_machine_gets_no_answer()
    {
        var client = Client();
        client.DefaultRequestHeaders.Host = "elsewhere.example";
        (await client.GetAsync("/", TestContext.Current.CancellationToken)).StatusCode.ShouldBe(HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task The_theme_form_without_its_token_is_refused()
    {
        var answer = await Client().PostAsync("/theme", new FormUrlEncodedContent([new("back", "/mixing")]), TestContext.Current.CancellationToken);
        answer.StatusCode.ShouldBe(HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task A_chosen_theme_is_in_the_page_before_any_script_runs()
    {
        var client = Client();
        client.DefaultRequestHeaders.Add("Cookie", "rootwater-theme=dark");
        (await client.GetStringAsync("/", TestContext.Current.CancellationToken)).ShouldContain("data-theme=\"dark\"");
    }

    [Fact]
    public async Task A_page_whose_ledger_fails_says_so_and_shows_no_trace()
    {
        _bench.Fault = new LedgerProblem(LedgerFault.Locked, "bench.db is held by another program. Close it, then try again.");
        var page = await Client().GetStringAsync("/", TestContext.Current.CancellationToken);
        page.ShouldContain("bench.db is held by another program.");
        page.ShouldNotContain("LedgerProblem");
        page.ShouldNotContain(" at Rootwater.");
    }

    public void Dispose() => _program.Dispose();
}
