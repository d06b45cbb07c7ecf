using Microsoft.AspNetCore.Http;

namespace Nest.Desk.Security;

/// <summary>Sets what a browser may do with our answers, on every one of them, errors and redirects too.</summary>
internal sealed class SafeHeaders(RequestDelegate next)
{
    /// <summary>Only our own files, no inline script or style, no frames, no other servers.</summary>
    internal const string Policy =
        "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        // Not "no-referrer": with that a browser hides the origin of our own forms too, and they would be refused as foreign.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers.CacheControl = "no-store";
        return next(context);
    }
}
