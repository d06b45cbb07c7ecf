using System.Net;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Nest.Desk.Model;

namespace Nest.Desk.Security;

/// <summary>The way in. Looking at the address spends nothing, so that previews of a link cannot burn it: only the button does.</summary>
internal static class Entrance
{
    public static void Map(WebApplication app)
    {
        app.MapGet("/enter", (HttpContext context, IAntiforgery forgery, string? token) =>
        {
            var form = forgery.GetAndStoreTokens(context);
            return Page($"""
                <h1>Open the desk</h1>
                <p>Let this browser work at the shop's desk?</p>
                <form method="post" action="/enter">
                <input type="hidden" name="{form.FormFieldName}" value="{WebUtility.HtmlEncode(form.RequestToken)}">
                <input type="hidden" name="token" value="{WebUtility.HtmlEncode(token)}">
                <button type="submit">Open</button>
                </form>
                """);
        }).AllowAnonymous();
        app.MapPost("/enter", (HttpContext context, [FromForm] string? token, EntryTokens tokens, Devices devices, Shop shop) =>
        {
            if (!tokens.Spend(token))
            {
                return Page("<h1>Not let in</h1><p>This address was used already, or is older than two minutes. Press Enter in the window where the desk was started: it shows a new one.</p>", 403);
            }

            context.Response.Cookies.Append(DeviceCookie.NameOf(shop), devices.Add("this machine"), DeviceCookie.Cookie);
            return Results.LocalRedirect("/");
        }).AllowAnonymous();
    }

    private static IResult Page(string body, int status = 200) => Results.Content($"""
        <!DOCTYPE html>
        <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Nest desk</title><link rel="stylesheet" href="/assets/desk.css"></head>
        <body><main class="entry">{body}</main></body></html>
        """, "text/html; charset=utf-8", null, status);
}
