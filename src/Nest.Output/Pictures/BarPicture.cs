using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>A bar as a technical drawing, to scale in its length: section in the vise, stop, blade and vise at the end that is measured from,
/// a chain of dimensions, numbered cuts. Of many equal blanks only the first and the last are drawn, between them stands their count.</summary>
/// <remarks>A bar of many unlike pieces goes on in further rows below. O(pieces × rows).</remarks>
/// <param name="lit">Numbers of the cuts that the page tells; null: all.</param>
internal sealed class BarPicture(SheetContext context, SceneBuilder scene, Layout layout, CutSequence? sequence, IReadOnlySet<int>? lit = null)
{
    private const double BarHeight = 11;
    private const double ChainAt = 6.4;
    private const double OverallAt = 5;
    private const double RowHeight = BarCuts.Band + BarHeight + ChainAt + 6.6;
    private const double Notes = 4.9;

    // From so many equal blanks on that are too narrow for their label: three, a break, the last.
    private const int Folded = 6;
    private const double LeastLabel = 2.2;

    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);
    private readonly List<BarRun> _runs = BarRun.Of(layout, context.Plan.SawOf(layout).Kerf);
    private readonly List<StepRow> _rows = sequence is null ? [] : StepRow.Of(sequence);

    /// <summary>Height on paper that the picture needs at this width, and its number of rows.</summary>
    public (double Height, int Rows) Measure(double width, double mostHeight)
    {
        var bar = BarWidth(width);
        var most = Math.Max(1, (int)((mostHeight - Notes - OverallAt) / RowHeight));
        var rows = Math.Clamp((int)Math.Ceiling(BarCuts.WidthOf(_rows) / (bar * 0.95)), 1, most);
        while (rows < most && !Readable(bar, rows))
        {
            rows++;
        }

        var count = Rows(RowLength(rows)).Count;
        return ((count * RowHeight) + (count == 1 ? OverallAt : 0) + Notes, rows);
    }

    /// <summary>Millimetres on paper for one of the bar's length.</summary>
    public double Scale(double width, int rows) => BarWidth(width) / View.Millimetres(RowLength(rows));

    public void Draw(Box area, int rows)
    {
        var each = RowLength(rows);
        var parts = Rows(each);
        var y = area.Y;
        foreach (var (from, to) in parts)
        {
            Row(new Box(area.X + BarSection.Width + 7, y + BarCuts.Band, BarWidth(area.Width), BarHeight), from, to, each, parts.Count == 1);
            y += RowHeight;
        }

        // Mitred pieces say on which side the section lies.
        var mitred = layout.Pieces.Where(piece => piece.Ends is not null).ToList();
        var onThickness = _stock.Detail is not null && mitred.Count > 0 && mitred.TrueForAll(piece => piece.Ends!.AcrossThickness);
        BarSection.Draw(scene, context, _stock, onThickness, area.X, area.Y + BarCuts.Band - 4);
        y += parts.Count == 1 ? OverallAt : 0;
        var end = BarMachine.Key(scene, context, area.X + BarSection.Width + 4, y + 2.3, area.Right);
        var note = SheetContext.Fill(context.Texts.BarScale, ScaleText.Of(context, Scale(area.Width, rows))) + (parts.Count > 1 ? " " + SheetContext.Fill(context.Texts.FoldNote, parts.Count) : "");
        scene.Text(Layer.Page, note, end, y + 3.4, Print.Least, Box.FromEdges(end, y, area.Right, y + Notes));
    }

    private static double BarWidth(double width) => width - BarSection.Width - 12;

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

    private bool Readable(double bar, int rows)
    {
        var scale = bar / View.Millimetres(RowLength(rows));
        return _runs.All(run => run.Kind != RunKind.Blanks || View.Millimetres(run.To - run.From) * scale >= LeastLabel);
    }

    // A view whose height is free: the section is not to scale.
    private static View ViewOf(Box box, Length from, Length each)
    {
        var tall = Length.FromNanometres((long)(each.Nanometres * (box.Height / box.Width)));
        return new(new Rect(from, Length.Zero, each, tall), box);
    }

    private void Row(Box box, Length from, Length to, Length each, bool whole)
    {
        var view = ViewOf(box, from, each);
        var bar = Box.FromEdges(box.X, box.Y, view.X(to), box.Bottom);
        var chain = new List<Measure>();
        foreach (var run in _runs.Where(run => run.From < to && run.To > from))
        {
            Run(run, view, bar, from, to, chain);
        }

        scene.Box(Layer.Sheet, bar, null, new Stroke(PartLook.Ink, 0.3));
        var fromRight = TrimmedEdges.FromRight(_stock, layout.Trims);
        if (from > Length.Zero)
        {
            Break(bar.X, bar);
        }

        if (to < layout.Sheet.SizeX)
        {
            Break(bar.Right, bar);
        }

        if (fromRight ? to == layout.Sheet.SizeX : from == Length.Zero)
        {
            var first = (sequence?.Steps ?? []).FirstOrDefault(step => step.Purpose == CutPurpose.Divide)?.Kerf;
            var blade = first is { } kerf ? Math.Clamp((view.X(kerf.X) + view.X(kerf.Right)) / 2, bar.X, bar.Right) : fromRight ? bar.Right - 6 : bar.X + 6;
            BarMachine.Draw(scene, bar, fromRight ? bar.Right : bar.X, fromRight ? -1 : 1, blade);
        }

        BarCuts.Draw(scene, [.. _rows.Select(row => new StepRow([.. row.Steps.Where(step => step.Kerf.X >= from && step.Kerf.X < to)])).Where(row => row.Steps.Count > 0)], view, bar, lit);
        var within = new Box(bar.X - 5, bar.Bottom, box.Width + 10, ChainAt + 14);
        DimensionChain.Along(scene, chain, bar.Bottom, bar.Bottom + ChainAt, within);
        if (whole)
        {
            DimensionChain.Along(scene, [new(bar.X, bar.Right, context.Length(layout.Sheet.SizeX))], bar.Bottom + ChainAt, bar.Bottom + ChainAt + 6.6 + OverallAt - 1.6, within);
        }
    }

    private void Run(BarRun run, View view, Box bar, Length from, Length to, List<Measure> chain)
    {
        var box = Part(view, bar, run.From, run.To);
        switch (run.Kind)
        {
            case RunKind.Blanks:
                Blanks([.. run.Pieces.Where(piece => piece.Area.X >= from && piece.Area.X < to)], view, bar, chain);
                break;
            case RunKind.Keep:
                PartLook.FillKeep(scene, box);
                Keep(run, box);
                chain.Add(new(box.X, box.Right, context.Length(run.To - run.From, false)));
                break;
            default:
                PartLook.FillScrap(scene, box);
                if (run.Kind == RunKind.Scrap && box.Width > 5)
                {
                    PieceLabel.Set(scene, Layer.Label, box, [[context.Texts.Scrap]]);
                }

                chain.Add(new(box.X, box.Right, context.Length(run.To - run.From, false)));
                break;
        }
    }

    // The mark is written at the far end: the next cuts come from the other one.
    private void Keep(BarRun run, Box box)
    {
        var name = SheetContext.Fill(context.Texts.Keep, SheetContext.KeepMark(layout, run.Offcut));
        var wide = Math.Min(box.Width, 46);
        var place = TrimmedEdges.FromRight(_stock, layout.Trims) ? box with { Width = wide } : Box.FromEdges(box.Right - wide, box.Y, box.Right, box.Bottom);

        // White over the hatch, clear of the border: it is written on.
        var field = new BoxElement(Layer.Offcut, place.Shrink(1.2), Tint.White, new Stroke(PartLook.Keep, 0.25, 1));
        if (PieceLabel.Set(scene, Layer.Label, field.Box, [[name, context.Texts.WriteHere], [name]], 4.6, PartLook.Keep, field) < 0)
        {
            // Too narrow to be written on: the mark alone, white to the border.
            var ground = new BoxElement(Layer.Offcut, box.Shrink(0.7), Tint.White, null);
            PieceLabel.Set(scene, Layer.Label, place, [[name], [SheetContext.KeepMark(layout, run.Offcut)]], 4.6, PartLook.Keep, ground);
        }
    }

    private void Blanks(IReadOnlyList<PlacedPiece> pieces, View view, Box bar, List<Measure> chain)
    {
        if (pieces.Count == 0)
        {
            return;
        }

        var part = pieces[0].PartId;
        var number = pieces[0].Spare ? $"{context.Number(part)} {context.Texts.Spare}" : context.Number(part);
        var size = context.SizeOf(pieces[0], _stock);
        var label = $"{SheetContext.Fill(context.Texts.PartNumber, number)} {part}";
        var one = Part(view, bar, pieces[0].Area.X, pieces[0].Area.Right);
        var named = false;
        if (pieces.Count >= Folded && one.Width < 14)
        {
            foreach (var piece in pieces.Take(3).Append(pieces[^1]))
            {
                Blank(piece, view, bar);
            }

            var middle = Part(view, bar, pieces[3].Area.X, pieces[^2].Area.Right);
            PartLook.Fill(scene, Layer.Piece, middle, context.NumberOf(part));
            Break(middle.X + 0.8, middle);
            Break(middle.Right - 0.8, middle);
            string[][] choices = [[label, $"{pieces.Count} × {size}"], [$"{number}: {pieces.Count} × {size}"], [number, $"{pieces.Count} ×"], [number]];
            named = PieceLabel.Set(scene, Layer.Label, PartLook.LabelRoom(Clear(middle), context.NumberOf(part)), choices, 4.6) >= 0;
        }
        else
        {
            foreach (var piece in pieces)
            {
                var (lying, across) = SlantedEnds.AsItLies(context.Part(part), piece);
                var box = SlantedEnds.Free(Blank(piece, view, bar), lying, _saw, across);
                named |= PieceLabel.Set(scene, Layer.Label, PartLook.LabelRoom(box, context.NumberOf(part)), PieceLabel.Choices(number, part, size, box), 4.6) >= 0;
            }
        }

        // To the end of the last kerf; at the end of the bar there may be less than one.
        var last = Length.Min(pieces[^1].Area.Right + _saw.Kerf, layout.Sheet.SizeX);
        var (x0, x1) = (view.X(pieces[0].Area.X), Math.Min(view.X(last), bar.Right));
        var blank = context.Length(pieces[0].Area.SizeX, false);
        var text = pieces.Count == 1 ? blank
            : context.Setting(_saw.Kerf) == context.Length(_saw.Kerf) && last - pieces[0].Area.X == (pieces[0].Area.SizeX + _saw.Kerf) * pieces.Count
                ? $"{pieces.Count} × ({blank} + {context.Length(_saw.Kerf, false)}) = {context.Length(last - pieces[0].Area.X, false)}"
                : $"{pieces.Count} × {blank}";
        var shorter = pieces.Count == 1 ? blank : $"{pieces.Count} × {blank}";
        text = DimensionChain.NeedsLeaders([new(x0, x1, text)]) ? shorter : text;
        chain.Add(new(x0, x1, named ? text : $"{SheetContext.Fill(context.Texts.PartNumber, number)}: {text}"));
    }

    private Box Blank(PlacedPiece piece, View view, Box bar)
    {
        var box = Part(view, bar, piece.Area.X, piece.Area.Right);
        PartLook.Fill(scene, Layer.Piece, box, context.NumberOf(piece.PartId));
        PartsInBlank.Draw(scene, context.Part(piece.PartId), piece, box);
        if (piece.Ends is not null)
        {
            var (lying, across) = SlantedEnds.AsItLies(context.Part(piece.PartId), piece);
            SlantedEnds.Draw(scene, Box.FromEdges(view.X(piece.Area.X), bar.Y, view.X(piece.Area.Right), bar.Bottom), bar, lying, _saw, across);
        }

        return box;
    }

    private static Box Part(View view, Box bar, Length from, Length to) =>
        Box.FromEdges(view.X(from), bar.Y, view.X(to), bar.Bottom).Clip(bar);

    // Between the wavy lines at its two ends.
    private static Box Clear(Box middle) => middle with { X = middle.X + Math.Min(1.2, middle.Width / 4), Width = middle.Width - (2 * Math.Min(1.2, middle.Width / 4)) };

    /// <summary>Wavy line: something is left out here.</summary>
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
        scene.Lines(Layer.Sheet, segments, new Stroke(PartLook.Ink, 0.25));
    }
}
