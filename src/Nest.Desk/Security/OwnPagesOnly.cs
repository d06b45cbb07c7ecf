using Microsoft.AspNetCore.Http;

namespace Nest.Desk.Security;

/// <summary>Changes, and the live connection of the pages, are taken from our own pages only.</summary>
/// <remarks>The strict cookie is no guard here: another page on another port of this machine counts as the same site to browsers, so
/// its requests carry the cookie. They cannot forge their origin.</remarks>
internal sealed class OwnPagesOnly(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        var origins = request.Headers.Origin;
        var own = origins is [{ } origin] && string.Equals(origin, $"{request.Scheme}://{request.Host}", StringComparison.Ordinal);
        // Reading needs no origin (browsers send none with it), but a foreign one may not open the live connection.
        var reads = (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method)) && !IsUpgrade(request)
            && (origins.Count == 0 || !request.Path.StartsWithSegments("/_blazor", StringComparison.Ordinal));
        if (own || reads)
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return context.Response.WriteAsync("Only the desk's own pages may ask for this.", context.RequestAborted);
    }

    /// <summary>Browsers always name the origin of a web socket; one without is no browser's.</summary>
    private static bool IsUpgrade(HttpRequest request) => request.Headers.Upgrade.Count > 0 || request.Headers.SecWebSocketKey.Count > 0;
}
