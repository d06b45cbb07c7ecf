using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Microsoft.AspNetCore.Connections.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace Nest.Desk.Security;

/// <summary>The second door, for phones and tablets of the shop's network. What may be done is decided by the door that a connection came in by, never
/// by a header: all that is not marked for devices does not exist here.</summary>
internal sealed class SharedDoor(RequestDelegate next)
{
    private const string Mark = "nest-shared-door";

    /// <summary>Marks the connections of an endpoint as those of this door.</summary>
    public static void MarkConnections(ListenOptions listen) => listen.Use(follow => connection =>
    {
        connection.Items[Mark] = true;
        return follow(connection);
    });

    public static bool IsUsedBy(HttpContext context) => context.Features.Get<IConnectionItemsFeature>()?.Items.ContainsKey(Mark) == true;

    public Task InvokeAsync(HttpContext context)
    {
        if (!IsUsedBy(context) || context.GetEndpoint()?.Metadata.GetMetadata<ForDevices>() is not null)
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status404NotFound;
        return context.Response.WriteAsync("There is no such page for this device.", context.RequestAborted);
    }

    /// <summary>The names under which devices may ask: this machine's own addresses on the network, and its name there.</summary>
    public static IReadOnlyList<string> HostNames(IPAddress address)
    {
        if (!address.Equals(IPAddress.Any))
        {
            return [address.ToString()];
        }

        var own = NetworkInterface.GetAllNetworkInterfaces()
            .Where(one => one.OperationalStatus == OperationalStatus.Up && one.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .SelectMany(one => one.GetIPProperties().UnicastAddresses)
            .Where(one => one.Address.AddressFamily == AddressFamily.InterNetwork).Select(one => one.Address.ToString()).Distinct().ToList();
        var name = Environment.MachineName.ToLowerInvariant();
        return [.. own, name, name + ".local"];
    }
}

/// <summary>Marks what a paired device may ask for.</summary>
internal sealed class ForDevices;
