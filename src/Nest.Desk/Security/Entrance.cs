using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Nest.Desk.Model;

namespace Nest.Desk.Security;

/// <summary>The ways in. Looking at the address spends nothing, so that previews of a link cannot burn it: only the button does.</summary>
internal static class Entrance
{
    public static void Map(WebApplication app)
    {
        app.MapGet("/enter", (HttpContext context, IAntiforgery forgery, string? token) => PlainPage.Of("Open the desk",
            "<p>Let this browser work at the shop's desk?</p>" + PlainPage.Form(context, forgery, "/enter", Hidden(token), "Open"))).AllowAnonymous();
        app.MapPost("/enter", (HttpContext context, [FromForm] string? token, EntryTokens tokens, Devices devices, Shop shop) =>
        {
            if (!tokens.Spend(token))
            {
                return PlainPage.Of("Not let in", "<p>This address was used already, or is older than two minutes. Press Enter in the window where the desk was started: it shows a new one.</p>", 403);
            }

            context.Response.Cookies.Append(DeviceCookie.NameOf(shop, false), devices.Add("this machine"), DeviceCookie.Cookie(context));
            return Results.LocalRedirect("/");
        }).AllowAnonymous();

        app.MapGet("/pair", (HttpContext context, IAntiforgery forgery, string? token) => PlainPage.Of("Pair this device",
            $"<p>{PlainPage.E(DeskTexts.PairMay)}</p>{Warning(context)}" + PlainPage.Form(context, forgery, "/pair",
                $"""{Hidden(token)}<label>{PlainPage.E(DeskTexts.DeviceName)} <input name="name" maxlength="{Devices.MostName}" required autocomplete="off"></label>""", "Pair"))).AllowAnonymous().WithMetadata(new ForDevices());
        app.MapPost("/pair", (HttpContext context, [FromForm] string? token, [FromForm] string? name, PairTokens tokens, Devices devices, Shop shop) =>
        {
            if (!SharedDoor.IsUsedBy(context) || !tokens.Spend(token))
            {
                return PlainPage.Of("Not paired", $"<p>{PlainPage.E(DeskTexts.NotPaired)}</p>", 403);
            }

            context.Response.Cookies.Append(DeviceCookie.NameOf(shop, true), devices.Add(name ?? "", paired: true), DeviceCookie.Cookie(context));
            return Results.LocalRedirect("/saw");
        }).AllowAnonymous().WithMetadata(new ForDevices());
    }

    /// <summary>What others on the network can see, where no certificate guards it.</summary>
    private static string Warning(HttpContext context) => context.Request.IsHttps ? "" : $"<p class=\"note\">{PlainPage.E(DeskTexts.NetworkSees)}</p>";

    private static string Hidden(string? token) => $"""<input type="hidden" name="token" value="{PlainPage.E(token)}">""";
}
