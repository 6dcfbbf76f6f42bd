using Microsoft.OpenApi;

namespace Rootwater.Web.Api;

/// <summary>The description of the whole HTTP API (OpenAPI), at /api/openapi.json. What each address does stands in <see cref="RouteWords"/>; a test finds one that has no words.</summary>
/// <remarks>
/// To make it takes a hundred megabytes, which a bench at home would keep for a page nobody there reads: it is made once, by a developer, and lies in openapi.json beside this. The test that
/// makes it anew and compares writes the new one down where it says when an address has changed.
/// </remarks>
public static class ApiDescription
{
    /// <summary>As the addresses make it, under this name.</summary>
    public const string DocumentName = "v1";

    public static void MapApiDescription(this IEndpointRouteBuilder group) =>
        group.MapGet("/openapi.json", () => Results.Stream(typeof(ApiDescription).Assembly.GetManifestResourceStream("openapi.json")!, "application/json; charset=utf-8")).ExcludeFromDescription();

    public static void AddApiDescription(this IServiceCollection services) => services.AddOpenApi(DocumentName, options =>
    {
        options.ShouldInclude = description => description.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true && !description.RelativePath.Contains("{**", StringComparison.Ordinal);
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "Rootwater",
                Version = typeof(ApiDescription).Assembly.GetName().Version?.ToString(3) ?? "0",
                Description = "The same jobs as the pages. Ids are UUIDs made by whoever creates the thing and double as idempotency keys; amounts carry their unit in the name; what goes wrong is application/problem+json, with every field at fault under \"problems\".",
            };
            document.Servers = []; // Wherever it was asked for.
            return Task.CompletedTask;
        });
        options.AddOperationTransformer((operation, context, _) =>
        {
            operation.Summary ??= RouteWords.Of(context.Description.HttpMethod ?? "GET", "/" + context.Description.RelativePath);
            return Task.CompletedTask;
        });
    });
}
