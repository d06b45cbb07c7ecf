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
        var reads = HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method);
        if (reads && !request.Path.StartsWithSegments("/_blazor", StringComparison.Ordinal))
        {
            return next(context);
        }

        var own = $"{request.Scheme}://{request.Host}";
        if (request.Headers.Origin is [{ } origin] && string.Equals(origin, own, StringComparison.Ordinal))
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return context.Response.WriteAsync("Only the desk's own pages may ask for this.", context.RequestAborted);
    }
}
