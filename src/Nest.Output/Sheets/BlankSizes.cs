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
                .Select(group => (group.Key.PartId, group.Key.Size, Count: group.Count() * layout.Count, Layout: layout)))
            .ToLookup(entry => entry.PartId, StringComparer.Ordinal);
        return context.Job.Parts.Where(part => byPart.Contains(part.Id)).Select(part => (part, (IReadOnlyList<BlankSize>)
        [
            .. byPart[part.Id].GroupBy(entry => entry.Size, StringComparer.Ordinal)
                .Select(group => new BlankSize(group.Key, group.Sum(entry => entry.Count), [.. FromOf(context, group.Select(entry => entry.Layout))]))
                .OrderByDescending(size => size.Count),
        ]));
    }

    /// <summary>Finished size of a part.</summary>
    public static string Finished(SheetContext context, Part part) =>
        part.Gang is { Parts: > 1 } gang ? $"{SheetContext.Fill(context.Texts.Times, gang.Parts)} {StockSize.Finished(part, context.Length)}" : StockSize.Finished(part, context.Length);

    private static string SizeOf(SheetContext context, Stock stock, PlacedPiece piece) => stock.Form switch
    {
        Form.Plate => $"{context.SizeOf(piece, stock)} × {context.Length(stock.Thickness)}",
        _ => $"{context.SectionOf(stock)} × {context.Length(piece.Area.SizeX)}",
    };

    private static IEnumerable<string> FromOf(SheetContext context, IEnumerable<Layout> layouts)
    {
        var (texts, all) = (context.Texts, layouts.Select(layout => (layout.Number, Stock: context.Plan.StockOf(layout))).ToArray());
        int[] sawn = [.. all.Where(one => one.Stock.CutFor is null).Select(one => one.Number).Distinct().Order()];
        string[] here = sawn.Length == 0 ? [] : [SheetContext.Fill(sawn.Length == 1 ? texts.FromLayout : texts.FromLayouts, Ranges.Text(sawn))];
        return here.Concat(all.Where(one => one.Stock.CutFor is not null)
            .Select(one => SheetContext.Fill(texts.FromOrder, string.IsNullOrEmpty(one.Stock.Supplier) ? texts.OrderNobody : one.Stock.Supplier)).Distinct(StringComparer.Ordinal));
    }
}
