using Microsoft.OpenApi;

namespace Rootwater.Web.Api;

/// <summary>The description of the whole HTTP API (OpenAPI), at /api/openapi.json. What each address does stands in <see cref="RouteWords"/>; a test finds one that has no words.</summary>
public static class ApiDescription
{
    public const string Address = "/openapi.json";

    public static void AddApiDescription(this IServiceCollection services) => services.AddOpenApi(options =>
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
