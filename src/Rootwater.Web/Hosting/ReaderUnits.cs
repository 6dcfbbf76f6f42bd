using Rootwater.Web.Numbers;

namespace Rootwater.Web.Hosting;

/// <summary>Every page shows the reader's units as they are set when it is asked for.</summary>
public static class ReaderUnits
{
    public static IApplicationBuilder UseReaderUnits(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        if (HttpMethods.IsGet(context.Request.Method) && context.GetEndpoint()?.Metadata.GetMetadata<Microsoft.AspNetCore.Components.Endpoints.ComponentTypeMetadata>() is not null)
            await context.RequestServices.GetRequiredService<Reader>().RefreshAsync(context.RequestAborted);
        await next(context);
    });
}
