using System.Globalization;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Desk.Model;
using Nest.Desk.Security;
using Nest.Rack.Plans;

namespace Nest.Desk;

/// <summary>After a miscut, at the saw: the rest is planned anew, shown, and put in the place of what is not cut.</summary>
internal static class RestPage
{
    public static void Map(WebApplication app)
    {
        app.MapPost("/saw/{job}/{mark}/rest", (HttpContext context, IAntiforgery forgery, string job, string mark, SawBook book, Shop shop, RestRoom rests, IFormCollection form) =>
        {
            if (book.Signed(job, mark) is not { } plan || book.OnRack(plan) is not { } record || shop.Job(job) is not { } folder)
            {
                return Gone();
            }

            var (problem, _) = rests.Start(folder, record, form["notOrdered"] == "yes");
            return problem.Length > 0
                ? PlainPage.Of(DeskTexts.PlanRest, Ask(context, forgery, job, mark, record, problem) + Back(job, mark), StatusCodes.Status409Conflict)
                : Results.LocalRedirect(Addresses.Tablet(job, mark) + "/rest");
        }).WithMetadata(new ForDevices());
        app.MapGet("/saw/{job}/{mark}/rest", (HttpContext context, IAntiforgery forgery, string job, string mark, SawBook book, Searches searches) =>
            book.Signed(job, mark) is { } plan && book.OnRack(plan) is { } record ? Look(context, forgery, job, mark, record, searches.Of(job)) : Gone()).WithMetadata(new ForDevices());
        app.MapPost("/saw/{job}/{mark}/rest/take", (HttpContext context, IAntiforgery forgery, string job, string mark, SawBook book, Shop shop, RestRoom rests, JobDesk jobs, Searches searches) =>
        {
            if (book.Signed(job, mark) is not { } plan || book.OnRack(plan) is not { } record || shop.Job(job) is not { } folder
                || searches.Of(job) is not { RestOf: { } old, Now: { State: SearchState.Done, Plan: { } next } } || old != record.Id || jobs.Read(folder, old, true).Given is not { } given)
            {
                return Gone();
            }

            var (problem, _) = rests.Keep(old, next, folder, given);
            return problem.Length > 0
                ? PlainPage.Of(DeskTexts.PlanRest, $"<p role=\"alert\" class=\"error\">{PlainPage.E(problem)}</p>{Back(job, mark)}", StatusCodes.Status409Conflict)
                : Results.LocalRedirect(Addresses.Tablet(job, Fingerprint.Of(next)));
        }).WithMetadata(new ForDevices());
    }

    /// <summary>The form that starts the search.</summary>
    public static string Ask(HttpContext context, IAntiforgery forgery, string job, string mark, PlanRecord record, string problem)
    {
        var open = record.Purchases.Any(purchase => purchase.ToCome > 0)
            ? $"<label class=\"hold\"><input type=\"checkbox\" name=\"notOrdered\" value=\"yes\"> {PlainPage.E(DeskTexts.NotOrderedYet)} ({PlainPage.E(RackedJob.ToCome(record))})</label>" : "";
        var said = problem.Length > 0 ? $"<p role=\"alert\" class=\"error\">{PlainPage.E(problem)}</p>" : "";
        return said + PlainPage.Form(context, forgery, Addresses.Tablet(job, mark) + "/rest", open, DeskTexts.PlanRest);
    }

    private static IResult Look(HttpContext context, IAntiforgery forgery, string job, string mark, PlanRecord record, Search? search)
    {
        if (search is not { RestOf: { } old } || old != record.Id)
        {
            return PlainPage.Of(DeskTexts.PlanRest, Ask(context, forgery, job, mark, record, "") + Back(job, mark));
        }

        var now = search.Now;
        if (now.State is SearchState.Waiting or SearchState.Running)
        {
            // Without script: the browser asks anew by itself.
            context.Response.Headers["Refresh"] = "2";
            var sofar = now.Points is [.., var last] ? $"; so far {PlainPage.E(last.Cost.ToString())}" : "";
            return PlainPage.Of(DeskTexts.PlanRest, string.Create(
                CultureInfo.InvariantCulture,
                $"<p role=\"status\">The rest of {PlainPage.E(record.Number)} is being planned, {search.Seconds:0} s at most{sofar}.</p>{Back(job, mark)}"));
        }

        if (now.Plan is not { } plan)
        {
            var why = string.Join(" ", now.Result?.Findings.Where(finding => finding.Severity == Severity.Error).Select(finding => PageWords.Of(finding.Message, "", "")) ?? []);
            return PlainPage.Of(DeskTexts.PlanRest, Ask(context, forgery, job, mark, record, why) + Back(job, mark), StatusCodes.Status409Conflict);
        }

        var buys = plan.Orders.Sum(order => order.Lines.Sum(line => line.Count));
        var cuts = string.Concat(plan.Layouts.Where(layout => !layout.Pieces.IsEmpty).Select(layout => $"<li>{PlainPage.E(LayoutCard.TitleOf(plan, layout))}</li>"));
        var short_ = string.Concat(plan.Unplaced.Select(left => $"<li class=\"error\">{left.Count} × {PlainPage.E(left.PartId)} cannot be cut: {PlainPage.E(left.Reason)}</li>"));
        return PlainPage.Of(DeskTexts.PlanRest, $"""
            <p>{PlainPage.E(DeskTexts.RestIsPlanned)}</p><ul>{cuts}{short_}</ul>
            <p>{(buys == 0 ? "Nothing has to be bought." : string.Create(CultureInfo.InvariantCulture, $"{buys} pieces have to be bought: the desk's page Order has them."))}</p>
            {PlainPage.Form(context, forgery, Addresses.Tablet(job, mark) + "/rest/take", "", DeskTexts.TakeRest)}{Back(job, mark)}
            """);
    }

    private static IResult Gone() => PlainPage.Of("No such plan", "<p>This plan is not the signed one any more, or it is not on the rack. <a href=\"/saw\">Plans to cut</a></p>", StatusCodes.Status404NotFound);

    private static string Back(string job, string mark) => $"<p><a class=\"action\" href=\"{PlainPage.E(Addresses.Tablet(job, mark))}\">Back to the saw</a></p>";
}
