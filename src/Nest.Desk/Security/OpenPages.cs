using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server.Circuits;

namespace Nest.Desk.Security;

/// <summary>A page that is open already takes nothing more from a browser that was thrown out: its live connection outlasts the check at the door.</summary>
internal sealed class OpenPages(AuthenticationStateProvider who, Devices devices) : CircuitHandler
{
    public override Func<CircuitInboundActivityContext, Task> CreateInboundActivityHandler(Func<CircuitInboundActivityContext, Task> next) => async activity =>
    {
        if (await IsStillInAsync().ConfigureAwait(false))
        {
            await next(activity).ConfigureAwait(false);
        }
    };

    /// <summary>Whether the browser of this page is still among those that were let in.</summary>
    public async Task<bool> IsStillInAsync()
    {
        var user = (await who.GetAuthenticationStateAsync().ConfigureAwait(false)).User;
        return user.FindFirstValue(ClaimTypes.NameIdentifier) is { } id && devices.All.Any(device => device.Id == id);
    }
}
