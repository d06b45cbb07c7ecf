using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The key below a picture: look, number, name, size and count of each part on it.</summary>
internal static class KeyList
{
    public const double Line = 5;
    private const double Column = 88;
    private const double TextSize = Print.Least;

    /// <summary>One line of the key.</summary>
    public sealed record Entry(int Number, string Name, string Size, int Count);

    public static List<Entry> Entries(SheetContext context, Layout layout)
    {
        var stock = context.Plan.StockOf(layout);
        return [.. layout.Pieces
            .GroupBy(piece => (piece.PartId, piece.Spare))
            .Select(group => new Entry(context.NumberOf(group.Key.PartId), group.Key.PartId + (group.Key.Spare ? $", {context.Texts.Spare}" : ""), context.SizeOf(group.First(), stock), group.Count()))
            .OrderBy(entry => entry.Number).ThenBy(entry => entry.Name.Length)];
    }

    public static double HeightFor(SheetContext context, IReadOnlyList<Entry> entries, double width) =>
        Math.Ceiling(entries.Count / (double)Columns(context, entries, width)) * Line;

    /// <summary>Draws what fits; returns how many entries that were.</summary>
    public static int Draw(SceneBuilder scene, SheetContext context, IReadOnlyList<Entry> entries, Box area)
    {
        var columns = Columns(context, entries, area.Width);
        var rows = Math.Min((int)(area.Height / Line + 1e-9), (int)Math.Ceiling(entries.Count / (double)columns));
        var width = area.Width / columns;
        var fits = Math.Min(entries.Count, rows * columns);
        for (var index = 0; index < fits; index++)
        {
            var entry = entries[index];
            var x = area.X + (index / rows * width);
            var y = area.Y + (index % rows * Line);
            PartLook.Fill(scene, Layer.Key, new Box(x, y + 0.4, 7, Line - 1), entry.Number);
            var baseline = y + (Line / 2) + (FontBook.CapHeight * TextSize / 2) - 0.1;
            var line = new Box(x + 8, y, width - 10, Line);
            var number = scene.Text(Layer.Key, SheetContext.Text(entry.Number), line.X, baseline, TextSize, line, Face.Bold);
            var tail = $"{entry.Size}   {SheetContext.Fill(context.Texts.Times, entry.Count)}";
            var tailBox = scene.Text(Layer.Key, tail, line.Right, baseline, TextSize, line, Face.Regular, Align.Right);
            scene.Text(Layer.Key, entry.Name, number.Right + 1.6, baseline, TextSize,
                Box.FromEdges(number.Right + 1.6, y, tailBox.X - 1.5, y + Line));
        }

        return fits;
    }

    // As many columns as leave the longest name whole; very long names get a line of their own.
    private static int Columns(SheetContext context, IReadOnlyList<Entry> entries, double width)
    {
        var longest = entries.Count == 0 ? 0 : entries.Max(entry => FontBook.Width(
            $"{SheetContext.Text(entry.Number)}  {entry.Name}  {entry.Size}   {SheetContext.Fill(context.Texts.Times, entry.Count)}", Face.Bold, TextSize));
        return Math.Max(1, (int)(width / Math.Max(Column, longest + 13)));
    }
}
