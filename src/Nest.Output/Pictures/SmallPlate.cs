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
        var view = ViewIn(area);
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

        Cuts(view, rows);
        var strips = steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip && !piece.IsRest).DistinctBy(piece => piece.Name);
        Caption(area, title, Numbers(view, area, rows, [.. strips.Where(strip => !Letter(view, strip))]));
    }

    /// <summary>The whole layout, with the cuts of some rows lit.</summary>
    public void Whole(Box area, string title, CutSequence sequence, IReadOnlyList<StepRow> rows)
    {
        var view = ViewIn(area);
        scene.Box(Layer.Sheet, view.Box, PartLook.Scrap);
        foreach (var offcut in layout.Offcuts.Where(offcut => offcut.Keep))
        {
            scene.Box(Layer.Offcut, view.Clipped(offcut.Area), PartLook.KeepLines);
        }

        foreach (var piece in layout.Pieces)
        {
            scene.Box(Layer.Piece, view.Clipped(piece.Area), Tint.White, new Stroke(Tint.Of(0x888888), 0.12));
        }

        scene.Box(Layer.Sheet, view.Box, null, new Stroke(PartLook.Ink, 0.3));
        Cuts(view, rows);
        var names = rows.SelectMany(row => row.Metals).Select(metal => metal.Name).ToHashSet(StringComparer.Ordinal);
        var strips = sequence.Steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip && names.Contains(piece.Name)).DistinctBy(piece => piece.Name).ToArray();

        // One that is broken down into others has no place of its own.
        var own = strips.Where(strip => !strips.Any(inner => inner != strip && strip.Area.Contains(inner.Area)));
        Caption(area, title, Numbers(view, area, rows, [.. own.Where(strip => !Letter(view, strip))]));
    }

    private View ViewIn(Box area) =>
        new(layout.Sheet, Box.FromEdges(area.X + SideMargin, area.Y + Title + EndMargin, area.Right - SideMargin, area.Bottom - EndMargin));

    // What it shows, and the letters for which it has no room.
    private void Caption(Box area, string title, List<string> missing)
    {
        var text = missing.Count switch
        {
            0 => title,
            <= 5 => $"{title}  ({SheetContext.Fill(context.Texts.LettersNotShown, string.Join(", ", missing))})",
            _ => $"{title}  ({SheetContext.Fill(context.Texts.LettersMany, missing.Count)})",
        };
        scene.Text(Layer.Page, text, area.X, area.Y + 3, Print.Least, area with { Height = Title }, Face.Bold);
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

    private void Cuts(View view, IReadOnlyList<StepRow> rows)
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
            scene.Lines(Layer.Ruler, [View.Side(view.Map(step.OnSaw.Area), step.Against)], new Stroke(PartLook.Ink, 0.9));
        }
    }

    /// <summary>What stands in the margin: the numbers of a row of cuts, or the letter of a strip that has no room for it.</summary>
    private sealed record Note(string Text, Box Around, bool Along, bool Letter)
    {
        public double Width => Letter ? FontBook.Width(Text, Face.Bold, Print.Least) + 0.6 : Pill.Width(Text);
    }

    // Returns the letters that found no room.
    private List<string> Numbers(View view, Box area, IReadOnlyList<StepRow> rows, IReadOnlyList<Workpiece> strips)
    {
        var missing = new List<string>();
        Note[] notes =
        [
            .. rows.Select(row => new Note(row.Numbers, Around([.. row.Steps.Select(step => view.Map(step.Kerf))]), row.First.Direction == CutDirection.Rip, false)),
            .. strips.Select(strip => new Note(StepText.Letter(strip), view.Map(strip.Area), strip.Area.SizeX >= strip.Area.SizeY, true)),
        ];
        foreach (var high in new[] { true, false })
        {
            var row = notes.Where(note => !note.Along && note.Around.CenterY < view.Box.CenterY == high).OrderBy(note => note.Around.CenterX).ToList();
            var y = high ? view.Box.Y - EndMargin + (Pill.Height / 2) : view.Box.Bottom + EndMargin - (Pill.Height / 2);
            Place(row, missing, note => note.Around.CenterX, note => note.Width, area.X, area.Right, (note, at) =>
            {
                Leader(note.Around.CenterX, high ? note.Around.Y : note.Around.Bottom, at, y);
                Draw(note, at, y);
            });
        }

        // Beside the plate only, so that nothing meets the rows above and below; what one side cannot take goes to the other.
        var (top, bottom) = (view.Box.Y - 1, view.Box.Bottom + 1);
        var capacity = (int)((bottom - top + 0.4) / (Pill.Height + 0.4));
        var along = notes.Where(note => note.Along).OrderBy(note => note.Around.CenterX).ToList();
        var lefts = along.Count(note => note.Around.CenterX < view.Box.CenterX);
        if (along.Count <= 2 * capacity)
        {
            lefts = Math.Clamp(lefts, Math.Max(0, along.Count - capacity), Math.Min(along.Count, capacity));
        }

        foreach (var left in new[] { true, false })
        {
            var column = (left ? along.Take(lefts) : along.Skip(lefts)).OrderBy(note => note.Around.CenterY).ToList();
            Place(column, missing, note => note.Around.CenterY, _ => Pill.Height, top, bottom, (note, at) =>
            {
                var x = left ? view.Box.X - 2 - (note.Width / 2) : view.Box.Right + 2 + (note.Width / 2);
                Leader(left ? note.Around.X : note.Around.Right, note.Around.CenterY, left ? x + (note.Width / 2) : x - (note.Width / 2), at);
                Draw(note, x, at);
            });
        }

        return missing;
    }

    // Numbers that find no room are told by the steps alone.
    private static void Place(List<Note> notes, List<string> missing, Func<Note, double> middle, Func<Note, double> size, double from, double to, Action<Note, double> draw)
    {
        double[]? places;
        while ((places = Spreading.Places([.. notes.Select(middle)], [.. notes.Select(size)], from, to, 0.4)) is null)
        {
            var last = notes.FindLastIndex(note => !note.Letter) is var at and >= 0 ? at : notes.Count - 1;
            if (notes[last].Letter)
            {
                missing.Add(notes[last].Text);
            }

            notes.RemoveAt(last);
        }

        for (var at = 0; at < notes.Count; at++)
        {
            draw(notes[at], places[at]);
        }
    }

    private void Draw(Note note, double x, double y)
    {
        if (!note.Letter)
        {
            Pill.Draw(scene, note.Text, x, y);
            return;
        }

        var within = new Box(x - (note.Width / 2), y - 2, note.Width, 4);
        scene.Text(Layer.Label, note.Text, x, y + (FontBook.CapHeight * Print.Least / 2), Print.Least, within, Face.Bold, Align.Center);
    }

    private void Leader(double x1, double y1, double x2, double y2) => scene.Line(Layer.Cut, x1, y1, x2, y2, new Stroke(PartLook.Ink, 0.15));

    private static Box Around(IReadOnlyList<Box> boxes) => Box.FromEdges(boxes.Min(box => box.X), boxes.Min(box => box.Y), boxes.Max(box => box.Right), boxes.Max(box => box.Bottom));

    // Whether there was room for it.
    private bool Letter(View view, Workpiece strip)
    {
        var box = view.Map(strip.Area);
        var letter = StepText.Letter(strip);
        var wide = FontBook.Width(letter, Face.Bold, Print.Least);
        if (box.Width < wide || box.Height < FontBook.CapHeight * Print.Least)
        {
            return false;
        }

        // In the middle, or beside it where a cut goes through.
        foreach (var (right, down) in new[] { (0.5, 0.5), (0.25, 0.5), (0.75, 0.5), (0.5, 0.25), (0.5, 0.75), (0.1, 0.5), (0.9, 0.5), (0.38, 0.5), (0.62, 0.5) })
        {
            var (x, y) = (box.X + (box.Width * right), box.Y + (box.Height * down) + (FontBook.CapHeight * Print.Least / 2));
            var place = new Box(x - (wide / 2), y - (FontBook.CapHeight * Print.Least), wide, (FontBook.CapHeight + FontBook.Descent) * Print.Least);
            if (scene.IsFree(place))
            {
                scene.Text(Layer.Label, letter, x, y, Print.Least, place with { X = place.X - 0.1, Width = place.Width + 0.2 }, Face.Bold, Align.Center);
                return true;
            }
        }

        return false;
    }
}
