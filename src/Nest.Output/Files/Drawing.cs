using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Pictures;
using Nest.Output.Sheets;

namespace Nest.Output.Files;

/// <summary>A rectangle on a named layer.</summary>
internal readonly record struct DrawnRect(string Layer, Rect Area);

/// <summary>A line on a named layer, between two points of the stock.</summary>
internal readonly record struct DrawnLine(string Layer, Length X1, Length Y1, Length X2, Length Y2);

/// <summary>A closed outline on a named layer.</summary>
internal sealed record DrawnShape(string Layer, ImmutableArray<(Length X, Length Y)> Corners);

/// <summary>A text centred on a rectangle.</summary>
internal readonly record struct DrawnText(Rect Area, string Text);

/// <summary>A layout as plain geometry at full size, in the stock's own coordinates: what the exchange files hold.</summary>
internal sealed record Drawing(Rect Sheet, IReadOnlyList<DrawnRect> Rects, IReadOnlyList<DrawnShape> Shapes, IReadOnlyList<DrawnLine> Lines,
    IReadOnlyList<DrawnText> Texts)
{
    public const string Outline = "OUTLINE";
    public const string Blanks = "BLANKS";
    public const string AngledEnds = "ANGLED_ENDS";
    public const string Cuts = "CUTS";
    public const string Offcuts = "OFFCUTS";
    public const string KeepOut = "KEEP_OUT";
    public const string Text = "TEXT";

    /// <summary>Parts within a blank that several are milled from: not for the saw.</summary>
    public const string PartsToMill = "PARTS_TO_MILL";

    public static readonly string[] Layers = [Outline, Blanks, Cuts, Offcuts, KeepOut, Text, AngledEnds, PartsToMill];

    public static Drawing Of(SheetContext context, Layout layout)
    {
        var stock = context.Plan.StockOf(layout);
        var saw = context.Plan.SawOf(layout);
        var rects = new List<DrawnRect> { new(Outline, layout.Sheet) };
        var shapes = new List<DrawnShape>();
        var lines = new List<DrawnLine>();
        var texts = new List<DrawnText>();
        foreach (var piece in layout.Pieces)
        {
            rects.Add(new(Blanks, piece.Area));
            rects.AddRange(PartsInBlank.Of(context.Part(piece.PartId), piece).Select(area => new DrawnRect(PartsToMill, area)));
            if (AngledOutline.Of(context.Job, piece, saw) is { } outline)
            {
                shapes.Add(outline);
            }

            texts.Add(new(piece.Area, $"{context.Number(piece.PartId)} {piece.PartId}{(piece.Spare ? ", " + context.Texts.Spare : "")}"));
        }

        foreach (var (mark, offcut, _) in SheetContext.Kept(layout))
        {
            rects.Add(new(Offcuts, offcut.Area));
            texts.Add(new(offcut.Area, SheetContext.Fill(context.Texts.Keep, mark)));
        }

        foreach (var keepOut in stock.KeepOuts)
        {
            rects.Add(new(KeepOut, keepOut));
        }

        if (saw.Kind == SawKind.Cutter)
        {
            // The border that clamps need.
            rects.Add(new(KeepOut, layout.Usable));
        }
        else
        {
            Trims(layout, saw, lines);
            if (layout.Tree is { } tree)
            {
                Cut(tree, saw.Kerf, lines);
            }
        }

        return new(layout.Sheet, rects, shapes, lines, texts);
    }

    /// <summary>Each cut is drawn as the middle line of its kerf.</summary>
    private static void Cut(CutNode node, Length kerf, List<DrawnLine> lines)
    {
        if (node.Kind != CutNodeKind.Split)
        {
            return;
        }

        var rip = node.Direction == CutDirection.Rip;
        var end = rip ? node.Area.Top : node.Area.Right;
        foreach (var child in node.Children)
        {
            var at = rip ? child.Area.Top : child.Area.Right;
            if (at < end)
            {
                var middle = at + Length.FromNanometres(Length.Min(kerf, end - at).Nanometres / 2);
                lines.Add(rip
                    ? new(Cuts, node.Area.X, middle, node.Area.Right, middle)
                    : new(Cuts, middle, node.Area.Y, middle, node.Area.Top));
            }

            Cut(child, kerf, lines);
        }
    }

    private static void Trims(Layout layout, Saw saw, List<DrawnLine> lines)
    {
        var half = Length.FromNanometres(saw.Kerf.Nanometres / 2);
        var sheet = layout.Sheet;
        var usable = layout.Usable;
        if (layout.Trims.Left > Length.Zero)
        {
            lines.Add(new(Cuts, usable.X - half, sheet.Y, usable.X - half, sheet.Top));
        }

        if (layout.Trims.Right > Length.Zero)
        {
            lines.Add(new(Cuts, usable.Right + half, sheet.Y, usable.Right + half, sheet.Top));
        }

        if (layout.Trims.Bottom > Length.Zero)
        {
            lines.Add(new(Cuts, usable.X, usable.Y - half, usable.Right, usable.Y - half));
        }

        if (layout.Trims.Top > Length.Zero)
        {
            lines.Add(new(Cuts, usable.X, usable.Top + half, usable.Right, usable.Top + half));
        }
    }

    /// <summary>Height of a text so that it stays in its rectangle; zero when there is no room worth it.</summary>
    public static decimal TextHeight(DrawnText text)
    {
        var wide = text.Area.SizeX.ToMillimetres() * 0.9m / Math.Max(1, text.Text.Length) / 0.9m;
        return decimal.Round(Math.Min(Math.Min(wide, text.Area.SizeY.ToMillimetres() * 0.4m), 20m), 3);
    }
}
