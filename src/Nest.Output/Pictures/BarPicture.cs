using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>A bar, to scale in its length. A bar of many short pieces is shown in rows, one the continuation of the other; below each
/// row, runs of equal pieces are named once.</summary>
/// <param name="tall">How tall it is drawn, from 1: for a page with room.</param>
internal sealed class BarPicture(SheetContext context, SceneBuilder scene, Layout layout, CutSequence? sequence, double tall = 1)
{
    private const double LeastHeight = 10;
    private const double RowBesides = 23 + BarCuts.Band;
    private const double LabelHeight = 7.4;

    // A tall bar has larger type, but not as much: the length of the pieces stays.
    private readonly double _type = 1 + ((tall - 1) * 0.45);

    private readonly List<int> _unnumbered = [];
    private readonly Stock _stock = context.Plan.StockOf(layout);

    private double BarHeight => LeastHeight * tall;

    private double Notes => 8 * _type;

    private double RowHeight => RowBesides + BarHeight + (LabelHeight * (_type - 1));

    /// <summary>Whether it is as little tall as can be.</summary>
    public bool IsLeast => tall <= 1;

    /// <summary>Height on paper that the picture needs at this width, and its number of rows.</summary>
    /// <param name="mostHeight">For the least tall picture; a taller one has as many rows and needs more.</param>
    public (double Height, int Rows) Measure(double width, double mostHeight)
    {
        var most = Math.Max(1, (int)((mostHeight - 8) / (RowBesides + LeastHeight)));
        var rows = 1;
        while (rows < most && !Readable(width, rows))
        {
            rows++;
        }

        return ((Rows(RowLength(rows)).Count * RowHeight) + Notes, rows);
    }

    // A row breaks before a piece that it does not hold whole; with the longest piece on top, that many rows are always enough.
    private Length RowLength(int rows)
    {
        var length = layout.Sheet.SizeX;
        if (rows == 1)
        {
            return length;
        }

        var longest = layout.Pieces.Aggregate(Length.Zero, (most, piece) => Length.Max(most, piece.Area.SizeX));
        return Length.Min(length, Length.FromNanometres((length.Nanometres + rows - 1) / rows) + longest);
    }

    private List<(Length From, Length To)> Rows(Length each)
    {
        var rows = new List<(Length, Length)>();
        var length = layout.Sheet.SizeX;
        for (var from = Length.Zero; from < length;)
        {
            var to = Length.Min(length, from + each);
            foreach (var piece in layout.Pieces)
            {
                if (piece.Area.X < to && piece.Area.Right > to)
                {
                    to = piece.Area.X;
                }
            }

            rows.Add((from, to));
            from = to;
        }

        return rows;
    }

    public void Draw(Box area, int rows)
    {
        var each = RowLength(rows);
        var y = area.Y;
        foreach (var (from, to) in Rows(each))
        {
            Row(new Box(area.X + 6, y + BarCuts.Band, area.Width - 12, BarHeight), from, to, each, from > Length.Zero, to < layout.Sheet.SizeX);
            y += RowHeight;
        }

        rows = Rows(each).Count;

        var view = ViewOf(new Box(area.X + 6, 0, area.Width - 12, BarHeight), Length.Zero, each);
        var factor = BarHeight / (View.Millimetres(layout.Sheet.SizeY) * view.Scale);
        var note = factor > 1.05
            ? SheetContext.Fill(context.Texts.SectionNote, context.Options.Numbers.Number((decimal)factor, factor < 10 ? 1 : 0))
            : context.Texts.SectionNoteNarrow;
        if (rows > 1)
        {
            note += " " + SheetContext.Fill(context.Texts.FoldNote, rows);
        }

        if (_unnumbered.Count > 0)
        {
            note += " " + SheetContext.Fill(context.Texts.Unnumbered, LayoutTop.Ranges(_unnumbered));
        }

        scene.Paragraph(Layer.Page, note, new Box(area.X + 6, y, area.Width - 12, Notes), y, 2.4 * _type);
    }

    private bool Readable(double width, int rows)
    {
        var scale = (width - 12) / View.Millimetres(RowLength(rows));
        return layout.Pieces.All(piece =>
            View.Millimetres(piece.Area.SizeX) * scale >= 1.6 + FontBook.Width(context.Number(piece.PartId), Face.Bold, PieceLabel.Smallest)
            || View.Millimetres(piece.Area.SizeX) * scale >= 3.2);
    }

    // A view whose height is free: the section is not to scale.
    private static View ViewOf(Box box, Length from, Length each)
    {
        var tall = Length.FromNanometres((long)(each.Nanometres * (box.Height / box.Width)));
        return new(new Rect(from, Length.Zero, each, tall), box);
    }

    private void Row(Box box, Length from, Length to, Length each, bool continued, bool goesOn)
    {
        var view = ViewOf(box, from, each);
        var end = view.X(to);
        var bar = Box.FromEdges(box.X, box.Y, end, box.Bottom);
        scene.Box(Layer.Cut, bar, PartLook.Kerf);
        Solid(view, bar, Length.Zero, layout.Trims.Left - context.Plan.SawOf(layout).Kerf, keep: false);
        Solid(view, bar, layout.Sheet.SizeX - layout.Trims.Right + context.Plan.SawOf(layout).Kerf, layout.Sheet.SizeX, keep: false);
        foreach (var offcut in layout.Offcuts)
        {
            Solid(view, bar, offcut.Area.X, offcut.Area.Right, offcut.Keep);
        }

        foreach (var piece in layout.Pieces)
        {
            var piecesBox = Part(view, bar, piece.Area.X, piece.Area.Right);
            PartLook.Fill(scene, Layer.Piece, piecesBox, context.NumberOf(piece.PartId));
            if (piece.Ends is not null)
            {
                var part = context.Job.Parts.First(part => part.Id == piece.PartId);
                var whole = Box.FromEdges(view.X(piece.Area.X), bar.Y, view.X(piece.Area.Right), bar.Bottom);
                SlantedEnds.Draw(scene, whole, bar, piece, context.Plan.SawOf(layout), part.Width);
            }
        }

        scene.Box(Layer.Sheet, bar, null, new Stroke(PartLook.Ink, 0.3));
        if (continued)
        {
            Break(bar.X, bar);
        }
        else if (!TrimmedEdges.FromRight(_stock, layout.Trims))
        {
            scene.Line(Layer.Ruler, bar.X - 0.9, bar.Y - 1, bar.X - 0.9, bar.Bottom + 3, new Stroke(PartLook.Reference, 1.1));
        }

        if (goesOn)
        {
            Break(bar.Right, bar);
        }
        else if (TrimmedEdges.FromRight(_stock, layout.Trims))
        {
            scene.Line(Layer.Ruler, bar.Right + 0.9, bar.Y - 1, bar.Right + 0.9, bar.Bottom + 3, new Stroke(PartLook.Reference, 1.1));
        }

        Ruler.Along(scene, context, new View(view.Window with { SizeX = to - from }, bar), layout.Usable.X, bar.Bottom + 2);
        Labels(view, bar, from, to);
        if (sequence is not null)
        {
            _unnumbered.AddRange(BarCuts.Draw(scene, [.. sequence.Steps.Where(step => step.Kerf.X >= from && step.Kerf.X < to)], view, bar));
        }
    }

    private void Labels(View view, Box bar, Length from, Length to)
    {
        foreach (var piece in layout.Pieces.Where(piece => Starts(piece.Area)))
        {
            var number = context.Number(piece.PartId);
            var box = SlantedEnds.Free(Part(view, bar, piece.Area.X, piece.Area.Right), piece, context.Plan.SawOf(layout), context.Part(piece.PartId).Width);
            PieceLabel.Set(scene, Layer.Label, box, PieceLabel.Choices(number, piece.PartId, context.SizeOf(piece, _stock), box), PartLook.HasPattern(context.NumberOf(piece.PartId)), 3.8 * _type);
        }

        foreach (var (mark, offcut, _) in SheetContext.Kept(layout).Where(kept => Starts(kept.Offcut.Area)))
        {
            var name = SheetContext.Fill(context.Texts.Keep, mark);
            string[][] choices = [[name, context.SizeOf(offcut.Area, _stock)], [name], [mark]];
            PieceLabel.Set(scene, Layer.Label, Part(view, bar, offcut.Area.X, offcut.Area.Right), choices, true, 3.8 * _type, PartLook.Keep);
        }

        foreach (var offcut in layout.Offcuts.Where(offcut => !offcut.Keep && Starts(offcut.Area)))
        {
            // The trim is not cut off from waste: it goes to the bin in one piece, as the steps say.
            var area = offcut.Area.Right == layout.Usable.Right ? offcut.Area with { SizeX = layout.Sheet.Right - offcut.Area.X } : offcut.Area;
            var box = Part(view, bar, area.X, area.Right);
            if (box.Width > 6)
            {
                string[][] choices = [[context.Texts.Scrap, context.SizeOf(area, _stock)], [context.Texts.Scrap]];
                PieceLabel.Set(scene, Layer.Label, box, choices, true, 2.6 * _type);
            }
        }

        Runs(view, bar, from, to);

        // A piece across a break is named in the row that shows more of it.
        bool Starts(Rect area) => Length.Min(area.Right, to) - Length.Max(area.X, from) > Length.FromNanometres(area.SizeX.Nanometres / 2)
            || (Length.Min(area.Right, to) - Length.Max(area.X, from) == Length.FromNanometres(area.SizeX.Nanometres / 2) && area.X >= from);
    }

    /// <summary>Below the ruler: "12 × name, size" with a bracket over each run of equal pieces.</summary>
    private void Runs(View view, Box bar, Length from, Length to)
    {
        var pieces = layout.Pieces.Where(piece => piece.Area.X < to && piece.Area.Right > from).OrderBy(piece => piece.Area.X).ToArray();
        var y = bar.Bottom + 10.5;
        var pen = new Stroke(PartLook.Ink, 0.25);
        for (var index = 0; index < pieces.Length;)
        {
            var until = index;
            while (until + 1 < pieces.Length && pieces[until + 1].PartId == pieces[index].PartId && pieces[until + 1].Area.SizeX == pieces[index].Area.SizeX)
            {
                until++;
            }

            var box = Part(view, bar, pieces[index].Area.X, pieces[until].Area.Right);
            scene.Lines(Layer.Ruler, [new(box.X + 0.3, y, box.Right - 0.3, y), new(box.X + 0.3, y, box.X + 0.3, y - 1.2), new(box.Right - 0.3, y, box.Right - 0.3, y - 1.2)], pen);
            var number = context.Number(pieces[index].PartId);
            var count = SheetContext.Fill(context.Texts.Times, until - index + 1);
            var size = context.SizeOf(pieces[index], _stock);
            var room = new Box(box.X, y + 0.2, box.Width, LabelHeight * _type);
            var name = FontBook.Clean(pieces[index].PartId);
            var which = SheetContext.Fill(context.Texts.PartNumber, number);
            string[][] choices = [[$"{count} {which} {name}", size], [$"{count} {which}", size], [$"{count} {which}"], [which]];
            if (room.Width > 4)
            {
                PieceLabel.Set(scene, Layer.Label, room, choices, false, 2.6 * _type);
            }

            index = until + 1;
        }
    }

    private void Solid(View view, Box bar, Length from, Length to, bool keep)
    {
        var box = Part(view, bar, from, to);
        if (box.Width <= 0)
        {
            return;
        }

        if (keep)
        {
            PartLook.FillKeep(scene, box);
        }
        else
        {
            PartLook.FillScrap(scene, box);
        }
    }

    private static Box Part(View view, Box bar, Length from, Length to) =>
        Box.FromEdges(view.X(from), bar.Y, view.X(to), bar.Bottom).Clip(bar);

    /// <summary>Wavy end: the bar goes on.</summary>
    private void Break(double x, Box bar)
    {
        var step = bar.Height / 6;
        var segments = new List<Segment>();
        for (var index = 0; index < 6; index++)
        {
            var side = index % 2 == 0 ? 0.8 : -0.8;
            segments.Add(new(x - (side / 2), bar.Y + (index * step), x + (side / 2), bar.Y + ((index + 1) * step)));
        }

        scene.Lines(Layer.Sheet, segments, new Stroke(Tint.White, 1.2));
        scene.Lines(Layer.Sheet, segments, new Stroke(PartLook.Ink, 0.3));
    }
}
