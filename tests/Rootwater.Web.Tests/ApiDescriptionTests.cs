using System.Net.Http.Json;
using System.Text.Json;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.OpenApi;
using Rootwater.Web.Api;

namespace Rootwater.Web.Tests;

/// <summary>The OpenAPI description names every address of the API and says what it does.</summary>
public sealed class ApiDescriptionTests : IDisposable
{
    private readonly WebProgram _program = WebProgram.On(new FixtureBench());

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_address_is_described_in_words()
    {
        var document = await DocumentAsync();
        var operations = document.GetProperty("paths").EnumerateObject().SelectMany(path => path.Value.EnumerateObject().Select(operation => (Path: path.Name, operation.Name, operation.Value))).ToList();
        operations.Count.ShouldBeGreaterThan(50);
        operations.Where(operation => !operation.Value.TryGetProperty("summary", out var words) || string.IsNullOrWhiteSpace(words.GetString()))
            .Select(operation => $"{operation.Name} {operation.Path}").ShouldBeEmpty("give them words in Api/RouteWords.cs");
    }

    [Fact]
    public async Task No_address_that_the_program_answers_is_missing()
    {
        var described = (await DocumentAsync()).GetProperty("paths").EnumerateObject().Select(path => path.Name).ToHashSet();
        var answered = _program.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Select(endpoint => "/" + endpoint.RoutePattern.RawText!.TrimStart('/')).Where(path => path.StartsWith("/api/", StringComparison.Ordinal) && !path.Contains("{**", StringComparison.Ordinal) && !path.EndsWith("openapi.json", StringComparison.Ordinal))
            .Select(path => System.Text.RegularExpressions.Regex.Replace(path, @"\{(\w+):\w+\}", "{$1}")).Distinct();
        answered.Where(path => !described.Contains(path)).ShouldBeEmpty();
    }

    [Fact]
    public async Task It_is_openapi_three_and_names_no_machine()
    {
        var document = await DocumentAsync();
        document.GetProperty("openapi").GetString()!.ShouldStartWith("3.");
        document.GetProperty("info").GetProperty("title").GetString().ShouldBe("Rootwater");
        (document.TryGetProperty("servers", out var servers) ? servers.GetArrayLength() : 0).ShouldBe(0);
    }

    [Fact]
    public async Task What_is_handed_out_is_what_the_addresses_make()
    {
        var made = await (await _program.Services.GetRequiredKeyedService<IOpenApiDocumentProvider>(ApiDescription.DocumentName).GetOpenApiDocumentAsync(Cancel))
            .SerializeAsJsonAsync(OpenApiSpecVersion.OpenApi3_1, Cancel);
        var handedOut = await _program.CreateClient().GetStringAsync("/api/openapi.json", Cancel);
        var now = Path.Combine(AppContext.BaseDirectory, "openapi.json");
        await File.WriteAllTextAsync(now, made, Cancel);
        (made == handedOut).ShouldBeTrue($"an address has changed: if that is meant, {now} is the new src/Rootwater.Web/Api/openapi.json");
    }

    private async Task<JsonElement> DocumentAsync() => await _program.CreateClient().GetFromJsonAsync<JsonElement>("/api/openapi.json", Cancel);

    public void Dispose() => _program.Dispose();
}
