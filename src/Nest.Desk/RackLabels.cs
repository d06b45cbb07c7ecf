using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Desk.Model;
using Nest.Output.Rack;
using Nest.Rack;
using Nest.Rack.Exchange;

namespace Nest.Desk;

/// <summary>Labels of pieces. Where the desk is shared their code is the address of the piece, which a phone's own camera opens; else it is the mark alone.</summary>
public static class RackLabels
{
    private const int MostMarks = 240;

    /// <param name="address">Of the piece's page; null: the code carries the mark alone.</param>
    public static LabelContent Of(RackPiece piece, LengthFormat format, string? address = null) => new(
        piece.Mark, PieceSizes.Text(piece, format), piece.MaterialId,
        [piece.Place.Length == 0 ? "" : "place " + piece.Place, piece.Form.Word() + (piece.Bought ? ", whole" : ", leftover"), piece.Origin])
    {
        Address = address, Heat = piece.Heat,
        Remark = string.Join(", ", new[] { piece.Condition == PieceCondition.Good ? "" : RackTable.ConditionWord(piece.Condition), piece.KeepOuts.IsEmpty ? "" : "damaged" }.Where(word => word.Length > 0)),
    };

    internal static string AddressOf(IEnumerable<string> marks, bool roll) => $"/rack/labels.pdf?{(roll ? "roll=true&" : "")}{string.Join('&', marks.Select(mark => "mark=" + Uri.EscapeDataString(mark)))}";

    internal static void Map(WebApplication app) => app.MapGet("/rack/labels.pdf", (string[] mark, bool? roll, Shop shop, TimeProvider time) =>
    {
        if (mark.Length is 0 or > MostMarks || !File.Exists(shop.RackFile))
        {
            return Results.NotFound();
        }

        try
        {
            using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
            var format = RackRoom.FormatOf(rack);
            var labels = mark.Select(rack.Show).DistinctBy(piece => piece.Mark).Select(piece => Of(piece, format, shop.SharedAddress("/piece/" + Uri.EscapeDataString(piece.Mark)))).ToList();
            return Results.Bytes(LabelPages.Pdf(labels, roll == true ? LabelSheet.OneLabel(62, 29) : LabelSheet.Usual, 0, DateOnly.FromDateTime(time.GetLocalNow().Date)), "application/pdf");
        }
        catch (RackException)
        {
            return Results.NotFound();
        }
    });
}
