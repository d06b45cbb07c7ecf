using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Core.Racks;
using Nest.Desk.Model;
using Nest.Desk.Security;
using Nest.Rack;
using Nest.Rack.StockTake;

namespace Nest.Desk;

/// <summary>A piece of the rack by its mark, for whoever stands before it: what it is, and in a stock-take that it was seen.</summary>
internal static class PiecePage
{
    public static void Map(WebApplication app)
    {
        app.MapGet("/piece/{mark}", (HttpContext context, IAntiforgery forgery, string mark, Shop shop, TimeProvider time) => Show(context, forgery, mark, shop, time)).WithMetadata(new ForDevices());
        app.MapPost("/piece/{mark}/seen", (HttpContext context, IAntiforgery forgery, string mark, Shop shop, TimeProvider time, IFormCollection form) =>
            Seen(context, forgery, mark, shop, time, form["place"].ToString())).WithMetadata(new ForDevices());
    }

    private static IResult Show(HttpContext context, IAntiforgery forgery, string mark, Shop shop, TimeProvider time)
    {
        try
        {
            if (!File.Exists(shop.RackFile))
            {
                return PlainPage.Of(mark, $"<p>{PlainPage.E(DeskTexts.NoRack)}</p>", 404);
            }

            using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
            var piece = rack.Show(mark);
            var row = RackRoom.RowOf(rack, piece);
            var facts = new[] { ("Material", row.Material), ("Size", row.Size), ("Place", row.Place), ("Heat", row.Heat), ("State", row.State), ("Note", piece.Note) }
                .Where(fact => fact.Item2.Length > 0).Select(fact => $"<div><dt>{fact.Item1}</dt><dd>{PlainPage.E(fact.Item2)}</dd></div>");
            return PlainPage.Of(piece.Mark, $"<dl class=\"facts\">{string.Concat(facts)}</dl>{Count(context, forgery, rack, piece)}");
        }
        catch (RackException refused)
        {
            return PlainPage.Of("No such piece", $"<p>{PlainPage.E(refused.Message)}</p>", 404);
        }
    }

    private static string Count(HttpContext context, IAntiforgery forgery, RackStore rack, RackPiece piece)
    {
        if (rack.Counts().LastOrDefault(one => one.State == StockTakeState.Open) is not { } count)
        {
            return "";
        }

        var seen = rack.Count(count.Id).Lines.Any(line => line.Found && string.Equals(line.Mark, piece.Mark, StringComparison.OrdinalIgnoreCase));
        return (seen ? "<p class=\"note\">Counted.</p>" : "") + PlainPage.Form(context, forgery, $"/piece/{Uri.EscapeDataString(piece.Mark)}/seen",
            $"<label>Place <input name=\"place\" maxlength=\"80\" value=\"{PlainPage.E(piece.Place)}\"></label>", "It is here: count it");
    }

    private static IResult Seen(HttpContext context, IAntiforgery forgery, string mark, Shop shop, TimeProvider time, string place)
    {
        try
        {
            using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
            if (rack.Counts().LastOrDefault(one => one.State == StockTakeState.Open) is not { } count)
            {
                return PlainPage.Of(mark, "<p>No stock-take is open: nothing was counted.</p>", 409);
            }

            rack.EnterFound(count.Id, [(mark, place)]);
        }
        catch (RackException refused)
        {
            return PlainPage.Of("Not counted", $"<p>{PlainPage.E(refused.Message)}</p>", 409);
        }

        return Show(context, forgery, mark, shop, time);
    }
}
