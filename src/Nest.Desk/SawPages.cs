using System.Security.Claims;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Desk.Security;
using Nest.Output.Tablet;
using Nest.Rack;

namespace Nest.Desk;

/// <summary>The saw for phone and tablet: the tablet page of a signed plan, with the desk as its store. Static pages and one script: they live through a
/// dropped network.</summary>
internal static class SawPages
{
    public const string Style = "/assets/tablet.css";
    public const string Script = "/assets/tablet.js";

    /// <summary>Two hundred ticks are below 20 KiB.</summary>
    private const int MostBytes = 64 * 1024;

    public static void Map(WebApplication app)
    {
        app.MapGet("/saw", List).WithMetadata(new ForDevices());
        app.MapGet("/saw/{job}/{mark}", (string job, string mark, SawBook book, Plans plans) =>
        {
            if (book.Signed(job, mark) is not { } plan)
            {
                return PlainPage.Of("No such plan", "<p>This plan is not the signed one any more: another may have taken its place. <a href=\"/saw\">Plans to cut</a></p>", 404);
            }

            var address = Addresses.Tablet(job, mark);
            return Results.Bytes(new TabletServed(Style, Script, address + "/ticks", address + "/miscut").Page(plan, new() { Work = plans.WorkOf(plan) }), "text/html; charset=utf-8");
        }).WithMetadata(new ForDevices());
        app.MapGet("/saw/{job}/{mark}/ticks", (HttpContext context, string job, string mark, SawBook book) => Answer(context, job, mark, book, [])).WithMetadata(new ForDevices());
        app.MapPost("/saw/{job}/{mark}/ticks", (HttpContext context, string job, string mark, SawBook book, [FromBody] Tick[] ticks) =>
            ticks.Length > SawBook.MostTicks || ticks.Any(tick => tick is null) ? Results.BadRequest() : Answer(context, job, mark, book, ticks))
            .WithMetadata(new ForDevices(), new RequestSizeLimitAttribute(MostBytes));
    }

    private static IResult Answer(HttpContext context, string job, string mark, SawBook book, Tick[] ticks)
    {
        if (book.Signed(job, mark) is not { } plan)
        {
            return Results.NotFound();
        }

        try
        {
            return Results.Json(book.Take(plan, ticks, context.User.FindFirstValue(ClaimTypes.Name) ?? ""));
        }
        catch (Exception problem) when (problem is RackException or IOException or UnauthorizedAccessException)
        {
            // Nothing is lost: the device tells what was not confirmed again.
            return Results.StatusCode(StatusCodes.Status503ServiceUnavailable);
        }
    }

    private static IResult List(Shop shop, Plans plans)
    {
        var rows = shop.Jobs().Select(folder => (folder.Name, plans.Saved(folder)?.Plan)).Where(row => row.Plan is not null)
            .Select(row => $"<li><a class=\"action\" href=\"{PlainPage.E(Addresses.Tablet(row.Name, Fingerprint.Of(row.Plan!)))}\">{PlainPage.E(row.Plan!.Job.Name)}</a></li>").ToList();
        return PlainPage.Of(DeskTexts.PlansToCut, rows.Count == 0 ? $"<p>{PlainPage.E(DeskTexts.NothingToCut)}</p>" : $"<ul>{string.Concat(rows)}</ul>");
    }
}
