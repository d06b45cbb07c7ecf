using Microsoft.AspNetCore.Http;
using Nest.Desk.Model;

namespace Nest.Desk.Security;

/// <summary>Answers only under the names of this machine itself: a foreign name that was made to point here is refused (DNS rebinding).</summary>
internal sealed class KnownHosts(RequestDelegate next, Shop shop)
{
    public Task InvokeAsync(HttpContext context)
    {
        if (SharedDoor.IsUsedBy(context) ? IsKnownShared(context.Request.Host) : IsKnown(context.Request.Host))
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status400BadRequest;
        return context.Response.WriteAsync("This desk does not answer under this name.", context.RequestAborted);
    }

    private bool IsKnownShared(HostString host) => host.Port == shop.SharedPort && shop.SharedHosts.Contains(host.Host, StringComparer.OrdinalIgnoreCase);

    private bool IsKnown(HostString host) => host.Port == shop.Port && (host.Host is "127.0.0.1" or "localhost");
}
