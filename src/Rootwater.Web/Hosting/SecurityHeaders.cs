namespace Rootwater.Web.Hosting;

/// <summary>What every answer says to the browser: load from here only, run no text as code, be framed by nobody.</summary>
public static class SecurityHeaders
{
    /// <summary>Scripts, styles, pictures and connections from this server alone; no inline script or style, no eval.</summary>
    public const string ContentSecurityPolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'self'; frame-ancestors 'none'";

    public static IApplicationBuilder UseSecurityHeaders(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = ContentSecurityPolicy;
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), microphone=(), geolocation=(), payment=(), usb=(), screen-wake-lock=(self)";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        await next(context);
    });

    /// <summary>
    /// A page of another site may not write through the API of a reader who has this program open. Browsers say where a request comes
    /// from in Sec-Fetch-Site; a terminal client sends none and is let through.
    /// </summary>
    public static IApplicationBuilder UseSameSiteWrites(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        var request = context.Request;
        var writes = !HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method) && !HttpMethods.IsOptions(request.Method);
        if (writes && request.Path.StartsWithSegments("/api") && request.Headers["Sec-Fetch-Site"].ToString() is "cross-site" or "same-site")
        {
            await Results.Problem(statusCode: StatusCodes.Status403Forbidden, title: "Refused", detail: "A page of another site may not write here.").ExecuteAsync(context);
            return;
        }

        await next(context);
    });
}
