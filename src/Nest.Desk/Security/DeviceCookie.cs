using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Nest.Desk.Model;

namespace Nest.Desk.Security;

/// <summary>Who a request comes from, by the cookie that the entrance gave.</summary>
internal sealed class DeviceCookie(
    IOptionsMonitor<DeviceCookie.Settings> options, ILoggerFactory logger, UrlEncoder encoder, Devices devices, Shop shop)
    : AuthenticationHandler<DeviceCookie.Settings>(options, logger, encoder)
{
    public new const string Scheme = "device";

    public static readonly AuthorizationPolicy SignedIn = new AuthorizationPolicyBuilder(Scheme).RequireAuthenticatedUser().Build();

    public sealed class Settings : AuthenticationSchemeOptions;

    /// <summary>Cookies know no port: with it in the name two desks on one machine do not lock each other out.</summary>
    /// <param name="shared">At the door for devices.</param>
    public static string NameOf(Shop shop, bool shared) => shared ? $"nest-saw-{(shop.SharedSafely ? "https" : "http")}-{shop.SharedPort}" : $"nest-desk-http-{shop.Port}";

    public static CookieOptions Cookie(HttpContext context) => new()
    {
        HttpOnly = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, Path = "/", MaxAge = TimeSpan.FromDays(30), IsEssential = true,
    };

    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        // A device's cookie opens nothing at the desk's own door, and the desk's cookie nothing at the door for devices.
        var shared = SharedDoor.IsUsedBy(Context);
        if (Request.Cookies[NameOf(shop, shared)] is not { Length: 32 } secret || devices.Find(secret) is not { } device || device.IsPaired != shared)
        {
            return Task.FromResult(AuthenticateResult.NoResult());
        }

        var identity = new ClaimsIdentity([new(ClaimTypes.NameIdentifier, device.Id), new(ClaimTypes.Name, device.Name)], Scheme);
        return Task.FromResult(AuthenticateResult.Success(new(new(identity), Scheme)));
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        Response.StatusCode = StatusCodes.Status401Unauthorized;
        return Response.WriteAsync(SharedDoor.IsUsedBy(Context)
            ? "Not let in. Pair this device first: the desk's page Devices shows a code to scan."
            : "Not let in. Press Enter in the window where the desk was started: it shows a new address.", Context.RequestAborted);
    }
}
