using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>A small picture of a plate that shows some of its cuts, lit and numbered from the margin: one stage of the break-down, or the cuts
/// that a page of steps tells.</summary>
internal sealed class SmallPlate(SheetContext context, SceneBuilder scene, Layout layout)
{
    private const double SideMargin = 14;
    private const double EndMargin = 6.4;
    private const double Title = 4.6;

    private static readonly Tint Lit = PartLook.Reference;

    /// <summary>Height that a picture of this width needs, at most so much.</summary>
    public static double HeightFor(Layout layout, double width, double most) =>
        Math.Min(most, ((width - (2 * SideMargin)) * View.Millimetres(layout.Sheet.SizeY) / View.Millimetres(layout.Sheet.SizeX)) + (2 * EndMargin) + Title);

    /// <summary>The metal that a stage cuts, what it becomes, and its cuts; all else is left out.</summary>
    public void Stage(Box area, string title, IReadOnlyList<StepRow> rows)
    {
        var view = Frame(area, title);
        scene.Box(Layer.Sheet, view.Box, null, new Stroke(Tint.Of(0xAAAAAA), 0.15, 1));
        var steps = rows.SelectMany(row => row.Steps).ToArray();
        var cutLater = steps.Select(step => step.OnSaw.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var piece in steps.SelectMany(step => step.Yields).Where(piece => piece.Kind != WorkKind.Strip || !cutLater.Contains(piece.Name)))
        {
            Fill(piece, view.Map(piece.Area));
        }

        foreach (var metal in Metals(steps))
        {
            scene.Box(Layer.Sheet, view.Map(metal.Area), null, new Stroke(PartLook.Ink, 0.3));
        }

        Cuts(view, area, rows);
        foreach (var strip in steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip && !piece.IsRest).DistinctBy(piece => piece.Name))
        {
            Letter(view, strip);
        }
    }

    /// <summary>The whole layout, with the cuts of some rows lit.</summary>
    public void Whole(Box area, string title, CutSequence sequence, IReadOnlyList<StepRow> rows)
    {
        var view = Frame(area, title);
        scene.Box(Layer.Sheet, view.Box, PartLook.Scrap);
        foreach (var offcut in layout.Offcuts.Where(offcut => offcut.Keep))
        {
            scene.Box(Layer.Offcut, view.Clipped(offcut.Area), Tint.Of(0xC4E2D8));
        }

        foreach (var piece in layout.Pieces)
        {
            scene.Box(Layer.Piece, view.Clipped(piece.Area), Tint.White, new Stroke(Tint.Of(0x888888), 0.12));
        }

        scene.Box(Layer.Sheet, view.Box, null, new Stroke(PartLook.Ink, 0.3));
        Cuts(view, area, rows);
        var names = rows.SelectMany(row => row.Metals).Select(metal => metal.Name).ToHashSet(StringComparer.Ordinal);
        var strips = sequence.Steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip && names.Contains(piece.Name)).DistinctBy(piece => piece.Name).ToArray();

        // One that is broken down into others has no place of its own.
        foreach (var strip in strips.Where(strip => !strips.Any(inner => inner != strip && strip.Area.Contains(inner.Area))))
        {
            Letter(view, strip);
        }
    }

    private View Frame(Box area, string title)
    {
        var within = area with { Height = Title };
        scene.Text(Layer.Page, title, area.X, area.Y + 3, Print.Least, within, Face.Bold);
        return new(layout.Sheet, Box.FromEdges(area.X + SideMargin, area.Y + Title + EndMargin, area.Right - SideMargin, area.Bottom - EndMargin));
    }

    private void Fill(Workpiece piece, Box box)
    {
        switch (piece.Kind)
        {
            case WorkKind.Piece:
                PartLook.Fill(scene, Layer.Piece, box, context.NumberOf(piece.PartId));
                break;
            case WorkKind.Remnant:
                PartLook.FillKeep(scene, box);
                break;
            case WorkKind.Scrap:
                scene.Box(Layer.Scrap, box, PartLook.Scrap);
                break;
            default:
                scene.Box(Layer.Sheet, box, Tint.Of(0xF7F7F2));
                break;
        }
    }

    // Each piece of metal as it came to the saw first.
    private static IEnumerable<Workpiece> Metals(IEnumerable<CutStep> steps) => steps.Select(step => step.OnSaw).DistinctBy(metal => metal.Name);

    private void Cuts(View view, Box area, IReadOnlyList<StepRow> rows)
    {
        foreach (var step in rows.SelectMany(row => row.Steps))
        {
            var box = view.Map(step.Kerf);
            var along = step.Direction == CutDirection.Rip;
            scene.Line(
                Layer.Cut, along ? box.X : box.CenterX, along ? box.CenterY : box.Y, along ? box.Right : box.CenterX, along ? box.CenterY : box.Bottom, new Stroke(Lit, 0.6));
            scene.Taken.Add(Box.FromEdges(box.X - 0.4, box.Y - 0.4, box.Right + 0.4, box.Bottom + 0.4));
        }

        // The edge that lies on the fence, of each piece of metal.
        foreach (var step in rows.Select(row => row.First))
        {
            var box = view.Map(step.OnSaw.Area);
            var (x1, y1, x2, y2) = step.Against switch
            {
                Edge.Left => (box.X, box.Y, box.X, box.Bottom),
                Edge.Right => (box.Right, box.Y, box.Right, box.Bottom),
                Edge.Bottom => (box.X, box.Bottom, box.Right, box.Bottom),
                _ => (box.X, box.Y, box.Right, box.Y),
            };
            scene.Line(Layer.Ruler, x1, y1, x2, y2, new Stroke(PartLook.Ink, 0.9));
        }

        Numbers(view, area, rows);
    }

    private void Numbers(View view, Box area, IReadOnlyList<StepRow> rows)
    {
        var marks = rows.Select(row => (row.Numbers, Around: Around([.. row.Steps.Select(step => view.Map(step.Kerf))]), Along: row.First.Direction == CutDirection.Rip)).ToArray();
        var across = marks.Where(mark => !mark.Along).ToArray();
        var along = marks.Where(mark => mark.Along).ToArray();
        bool High((string, Box Around, bool) mark) => mark.Around.CenterY < view.Box.CenterY;
        bool Left((string, Box Around, bool) mark) => mark.Around.CenterX < view.Box.CenterX;
        foreach (var high in new[] { true, false })
        {
            var row = across.Where(mark => High(mark) == high).OrderBy(mark => mark.Around.CenterX).ToList();
            Place(row, mark => mark.Around.CenterX, mark => Pill.Width(mark.Numbers), area.X, area.Right, (mark, at) =>
            {
                var y = high ? view.Box.Y - EndMargin + (Pill.Height / 2) : view.Box.Bottom + EndMargin - (Pill.Height / 2);
                Leader(mark.Around.CenterX, high ? mark.Around.Y : mark.Around.Bottom, at, y);
                Pill.Draw(scene, mark.Numbers, at, y);
            });
        }

        foreach (var left in new[] { true, false })
        {
            var column = along.Where(mark => Left(mark) == left).OrderBy(mark => mark.Around.CenterY).ToList();
            Place(column, mark => mark.Around.CenterY, _ => Pill.Height, area.Y + Title, area.Bottom, (mark, at) =>
            {
                var x = left ? view.Box.X - 2 - (Pill.Width(mark.Numbers) / 2) : view.Box.Right + 2 + (Pill.Width(mark.Numbers) / 2);
                Leader(left ? mark.Around.X : mark.Around.Right, mark.Around.CenterY, x, at);
                Pill.Draw(scene, mark.Numbers, x, at);
            });
        }

        // What finds no room is told by the steps alone.
        static void Place(List<(string Numbers, Box Around, bool Along)> list, Func<(string Numbers, Box Around, bool Along), double> middle, Func<(string Numbers, Box Around, bool Along), double> size, double from, double to, Action<(string Numbers, Box Around, bool Along), double> draw)
        {
            double[]? places;
            while ((places = Spreading.Places([.. list.Select(middle)], [.. list.Select(size)], from, to, 0.4)) is null)
            {
                list.RemoveAt(list.Count - 1);
            }

            for (var at = 0; at < list.Count; at++)
            {
                draw(list[at], places[at]);
            }
        }
    }

    private void Leader(double x1, double y1, double x2, double y2) => scene.Line(Layer.Cut, x1, y1, x2, y2, new Stroke(PartLook.Ink, 0.15));

    private static Box Around(IReadOnlyList<Box> boxes) => Box.FromEdges(boxes.Min(box => box.X), boxes.Min(box => box.Y), boxes.Max(box => box.Right), boxes.Max(box => box.Bottom));

    private void Letter(View view, Workpiece strip)
    {
        var box = view.Map(strip.Area);
        var letter = StepText.Letter(strip);
        var wide = FontBook.Width(letter, Face.Bold, Print.Least);
        if (box.Width < wide || box.Height < FontBook.CapHeight * Print.Least)
        {
            return;
        }

        // In the middle, or beside it where a cut goes through.
        foreach (var (right, down) in new[] { (0.5, 0.5), (0.25, 0.5), (0.75, 0.5), (0.5, 0.25), (0.5, 0.75), (0.1, 0.5), (0.9, 0.5), (0.38, 0.5), (0.62, 0.5) })
        {
            var (x, y) = (box.X + (box.Width * right), box.Y + (box.Height * down) + (FontBook.CapHeight * Print.Least / 2));
            var place = new Box(x - (wide / 2), y - (FontBook.CapHeight * Print.Least), wide, (FontBook.CapHeight + FontBook.Descent) * Print.Least);
            if (scene.IsFree(place))
            {
                scene.Text(Layer.Label, letter, x, y, Print.Least, place with { X = place.X - 0.1, Width = place.Width + 0.2 }, Face.Bold, Align.Center);
                return;
            }
        }
    }
}
