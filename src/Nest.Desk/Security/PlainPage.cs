using System.Net;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Http;

namespace Nest.Desk.Security;

/// <summary>A page without script: for the entrance, and for devices.</summary>
internal static class PlainPage
{
    /// <param name="body">HTML; texts from outside in it are encoded already (<see cref="E"/>).</param>
    public static IResult Of(string title, string body, int status = 200) => Results.Content($"""
        <!DOCTYPE html>
        <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>{E(title)}</title><link rel="stylesheet" href="/assets/desk.css"><link rel="icon" href="data:,"></head>
        <body><main class="entry"><h1>{E(title)}</h1>{body}</main></body></html>
        """, "text/html; charset=utf-8", null, status);

    /// <summary>A form that only this page can send.</summary>
    public static string Form(HttpContext context, IAntiforgery forgery, string action, string fields, string button)
    {
        var token = forgery.GetAndStoreTokens(context);
        return $"""<form method="post" action="{E(action)}" class="fields"><input type="hidden" name="{token.FormFieldName}" value="{E(token.RequestToken)}">{fields}<button type="submit" class="main">{E(button)}</button></form>""";
    }

    public static string E(string? text) => WebUtility.HtmlEncode(text ?? "");
}
