using System.Reflection;
using Microsoft.AspNetCore.Routing.Patterns;
using Microsoft.Extensions.Options;

namespace Rootwater.Web.Api;

/// <summary>
/// Addresses of the API, each compiled when it is first asked for. Mapped in the usual way, all would be compiled at the start, and the JSON of all they could ever answer laid out with
/// them: three and a half thousand small methods for addresses that few on a bench ever ask. What an address takes and gives is known from the start, for the description.
/// </summary>
/// <param name="group">Where they are mapped.</param>
internal sealed class ApiRoutes(RouteGroupBuilder group)
{
    private static readonly string[] s_get = [HttpMethods.Get], s_post = [HttpMethods.Post];

    public void MapGet(string pattern, Delegate handler) => Map(pattern, s_get, handler, mayHaveBody: false);

    public void MapPost(string pattern, Delegate handler) => Map(pattern, s_post, handler, mayHaveBody: true);

    private void Map(string pattern, string[] methods, Delegate handler, bool mayHaveBody)
    {
        var options = new RequestDelegateFactoryOptions
        {
            ServiceProvider = Services,
            RouteParameterNames = [.. RoutePatternFactory.Parse(pattern).Parameters.Select(parameter => parameter.Name)],
            ThrowOnBadRequest = Services.GetRequiredService<IOptions<RouteHandlerOptions>>().Value.ThrowOnBadRequest,
            DisableInferBodyFromParameters = !mayHaveBody,
        };
        var compiled = new Lazy<RequestDelegate>(() => RequestDelegateFactory.Create(handler, options).RequestDelegate);
        group.MapMethods(pattern, methods, context => compiled.Value(context)).Add(endpoint =>
        {
            endpoint.Metadata.Add(handler.Method);
            foreach (var said in RequestDelegateFactory.InferMetadata(handler.Method, options).EndpointMetadata)
            {
                endpoint.Metadata.Add(said);
            }

            foreach (var said in handler.Method.GetCustomAttributes())
            {
                endpoint.Metadata.Add(said);
            }
        });
    }

    private IServiceProvider Services => ((IEndpointRouteBuilder)group).ServiceProvider;
}
