using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Output.Sheets;

/// <summary>Blanks of one size for one part: how many, and which layouts or suppliers they come from.</summary>
/// <param name="Size">In words, with its section or thickness.</param>
internal sealed record BlankSize(string Size, int Count, IReadOnlyList<string> From);

/// <summary>The blanks of a part as they come to the mill.</summary>
internal static class BlankSizes
{
    /// <summary>By part, in the job's order, the most numerous size first. O(pieces).</summary>
    public static IEnumerable<(Part Part, IReadOnlyList<BlankSize> Sizes)> Of(SheetContext context)
    {
        var byPart = context.Plan.Layouts.Where(layout => !layout.Pieces.IsEmpty)
            .SelectMany(layout => layout.Pieces.GroupBy(piece => (piece.PartId, Size: SizeOf(context, context.Plan.StockOf(layout), piece)))
                .Select(group => (group.Key.PartId, group.Key.Size, Count: group.Count() * layout.Count, From: FromOf(context, layout))))
            .ToLookup(entry => entry.PartId, StringComparer.Ordinal);
        return context.Job.Parts.Where(part => byPart.Contains(part.Id)).Select(part => (part, (IReadOnlyList<BlankSize>)
        [
            .. byPart[part.Id].GroupBy(entry => entry.Size, StringComparer.Ordinal)
                .Select(group => new BlankSize(group.Key, group.Sum(entry => entry.Count), [.. group.Select(entry => entry.From).Distinct(StringComparer.Ordinal)]))
                .OrderByDescending(size => size.Count),
        ]));
    }

    /// <summary>Finished size of a part.</summary>
    public static string Finished(SheetContext context, Part part) => StockSize.Finished(part, context.Length);

    private static string SizeOf(SheetContext context, Stock stock, PlacedPiece piece) => stock.Form switch
    {
        Form.Plate => $"{context.SizeOf(piece, stock)} × {context.Length(stock.Thickness)}",
        _ => $"{context.SectionOf(stock)} × {context.Length(piece.Area.SizeX)}",
    };

    private static string FromOf(SheetContext context, Layout layout)
    {
        var stock = context.Plan.StockOf(layout);
        return stock.CutFor is null
            ? SheetContext.Fill(context.Texts.FromLayout, layout.Number)
            : SheetContext.Fill(context.Texts.FromOrder, string.IsNullOrEmpty(stock.Supplier) ? context.Texts.OrderNobody : stock.Supplier);
    }
}
