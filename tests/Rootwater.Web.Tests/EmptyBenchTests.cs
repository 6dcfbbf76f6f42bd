using System.Net;

namespace Rootwater.Web.Tests;

/// <summary>A ledger that holds nothing yet: every page opens and says what to do.</summary>
public sealed class EmptyBenchTests : IDisposable
{
    private readonly WebProgram _program = new(_ => { });

    [Theory]
    [InlineData("/", "nothing is kept here yet")]
    [InlineData("/mixing", "nothing is kept here yet")]
    [InlineData("/cupboard", "The cupboard is empty.")]
    [InlineData("/cupboard/supply", "nothing is kept here yet")]
    [InlineData("/water", "No water yet.")]
    public async Task A_page_of_an_empty_bench_says_so(string path, string words)
    {
        var answer = await _program.CreateClient().GetAsync(path, TestContext.Current.CancellationToken);
        answer.StatusCode.ShouldBe(HttpStatusCode.OK);
        (await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).ShouldContain(words);
    }

    public void Dispose() => _program.Dispose();
}
