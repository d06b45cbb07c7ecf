using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Desk.Model;
using Nest.Desk.Security;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk;

/// <summary>A stock piece went wrong: the page asks what is good and what is left, and books both on the rack as one change.</summary>
internal static class MiscutPage
{
    private const int MostLeftovers = 3;

    public static void Map(WebApplication app)
    {
        app.MapGet("/saw/{job}/{mark}/miscut/{layout:int}", (HttpContext context, IAntiforgery forgery, string job, string mark, int layout, SawBook book) =>
            book.Signed(job, mark) is { } plan && plan.Layouts.FirstOrDefault(one => one.Number == layout) is { } asked
                ? Form(context, forgery, job, mark, plan, asked, book, "")
                : Results.NotFound()).WithMetadata(new ForDevices());
        app.MapPost("/saw/{job}/{mark}/miscut/{layout:int}", (HttpContext context, IAntiforgery forgery, string job, string mark, int layout, SawBook book, Shop shop, TimeProvider time, IFormCollection form) =>
            book.Signed(job, mark) is { } plan && plan.Layouts.FirstOrDefault(one => one.Number == layout) is { } asked && book.OnRack(plan) is { } record
                ? Booked(context, forgery, job, mark, plan, asked, book, shop, time, record, form)
                : Results.NotFound()).WithMetadata(new ForDevices());
    }

    private static IResult Form(HttpContext context, IAntiforgery forgery, string job, string mark, Plan plan, Layout layout, SawBook book, string problem)
    {
        var title = $"Miscut, layout {layout.Number}";
        if (book.OnRack(plan) is not { } record)
        {
            return PlainPage.Of(title, $"<p>{PlainPage.E(DeskTexts.NotOnRack)}</p>{Back(job, mark)}");
        }

        var fields = new StringBuilder();
        var parts = Parts(layout);
        for (var at = 0; at < parts.Count; at++)
        {
            fields.Append(CultureInfo.InvariantCulture, $"<label>Good blanks of {PlainPage.E(parts[at].PartId)}, of {parts[at].Count} <input type=\"number\" name=\"good{at}\" min=\"0\" max=\"{parts[at].Count}\" value=\"0\" inputmode=\"numeric\"></label>");
        }

        var bar = plan.StockOf(layout).Form.IsBar();
        var unit = LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction).UnitName;
        for (var at = 0; at < MostLeftovers; at++)
        {
            fields.Append(CultureInfo.InvariantCulture, $"<label>{(at == 0 ? "What is left and worth keeping" : "Another piece that is left")}, {(bar ? $"length in {unit}" : $"length x width in {unit}")} <input name=\"left{at}\" maxlength=\"60\" autocomplete=\"off\"></label>");
        }

        fields.Append("<label>What happened <input name=\"note\" maxlength=\"200\" required></label>");
        return PlainPage.Of(title, $"""
            <p>{PlainPage.E(LayoutCard.TitleOf(plan, layout))}. One {(bar ? "bar" : "plate")} went wrong: it is booked on {PlainPage.E(record.Number)} as such. Blanks that are not counted here are made anew.</p>
            {(problem.Length > 0 ? $"<p role=\"alert\" class=\"error\">{PlainPage.E(problem)}</p>" : "")}
            {PlainPage.Form(context, forgery, $"{Addresses.Tablet(job, mark)}/miscut/{layout.Number}", fields.ToString(), "Book it")}{Back(job, mark)}
            """, problem.Length > 0 ? StatusCodes.Status400BadRequest : StatusCodes.Status200OK);
    }

    private static IResult Booked(
        HttpContext context, IAntiforgery forgery, string job, string mark, Plan plan, Layout layout, SawBook book, Shop shop, TimeProvider time, PlanRecord record, IFormCollection form)
    {
        var good = ImmutableArray.CreateBuilder<PartCount>();
        var parts = Parts(layout);
        for (var at = 0; at < parts.Count; at++)
        {
            if (!int.TryParse(form[$"good{at}"], NumberStyles.None, CultureInfo.InvariantCulture, out var count) || count > parts[at].Count)
            {
                return Form(context, forgery, job, mark, plan, layout, book, $"Count the good blanks of {parts[at].PartId}: 0 to {parts[at].Count}.");
            }

            good.Add(new(parts[at].PartId, count));
        }

        var left = ImmutableArray.CreateBuilder<ActualLeftover>();
        foreach (var text in Enumerable.Range(0, MostLeftovers).Select(at => form[$"left{at}"].ToString().Trim()).Where(text => text.Length > 0))
        {
            var bar = plan.StockOf(layout).Form.IsBar();
            var read = SizeText.Read(text, plan.Job.Unit);
            if (read.Items.IsDefaultOrEmpty || read.Items.Length != (bar ? 1 : 2))
            {
                return Form(context, forgery, job, mark, plan, layout, book, $"'{text}': {(read.Error.Length > 0 ? $"{read.Error} – {read.Hint}" : bar ? "give the length alone" : "give length x width")}.");
            }

            left.Add(new(read.Items[0].Length, bar ? Length.Zero : read.Items[1].Length));
        }

        try
        {
            using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
            var note = form["note"].ToString().Trim();
            var result = rack.Miscut(new() { PlanId = record.Id, Layout = layout.Number, Made = good.ToImmutable(), Leftovers = left.ToImmutable(), Note = note });
            var missing = RestRoom.Missing(rack.Plan(record.Id));
            return PlainPage.Of("The miscut is booked", $"""
                {(result.Leftovers.IsEmpty ? "" : $"<p class=\"note\">Write on what is left: {PlainPage.E(string.Join(", ", result.Leftovers.Select(piece => piece.Mark)))}</p>")}
                <p>Still to make: {PlainPage.E(missing.Length > 0 ? missing : "nothing")}.</p>
                {(missing.Length > 0 ? RestPage.Ask(context, forgery, job, mark, rack.Plan(record.Id), "") : "")}{Back(job, mark)}
                """);
        }
        catch (RackException refused)
        {
            return Form(context, forgery, job, mark, plan, layout, book, RackRoom.Words(refused));
        }
    }

    private static List<PartCount> Parts(Layout layout) => [.. layout.Pieces.GroupBy(piece => piece.PartId, StringComparer.Ordinal).Select(group => new PartCount(group.Key, group.Count()))];

    private static string Back(string job, string mark) => $"<p><a class=\"action\" href=\"{PlainPage.E(Addresses.Tablet(job, mark))}\">Back to the saw</a></p>";
}
