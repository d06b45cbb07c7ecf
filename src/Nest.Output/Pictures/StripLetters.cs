using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Gives each strip of a plate its letter, in a frame through which the metal is seen: at its corners first, then along its edges; on plain
/// metal of one piece, else where no number is.</summary>
internal static class StripLetters
{
    /// <summary>Draws those for which there is room.</summary>
    public static void Draw(SceneBuilder scene, SheetContext context, Layout layout, CutSequence sequence, View view)
    {
        const double Side = 4.4;
        var numbers = new TakenBoxes();
        Box[] plain =
        [
            .. layout.Pieces.Select(piece => PartLook.LabelRoom(view.Clipped(piece.Area), context.NumberOf(piece.PartId))),
            .. layout.Offcuts.Where(offcut => !offcut.Keep).Select(offcut => view.Clipped(offcut.Area)),
        ];
        foreach (var piece in layout.Pieces)
        {
            var room = PartLook.LabelRoom(view.Clipped(piece.Area), context.NumberOf(piece.PartId));
            var number = FontBook.Width(context.Number(piece.PartId), Face.Bold, Print.Least) + 1;
            numbers.Add(new Box(room.CenterX - (number / 2), room.CenterY - 1.9, number, 3.8));
        }

        foreach (var strip in sequence.Steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip).DistinctBy(piece => piece.Name))
        {
            var letter = StepText.Letter(strip);
            var wide = Math.Max(Side, FontBook.Width(letter, Face.Bold, Print.Least) + 1.6);
            var box = view.Clipped(strip.Area).Shrink(0.7);
            if (box.Width < wide || box.Height < Side)
            {
                continue;
            }

            var (right, bottom) = (box.Right - wide, box.Bottom - Side);
            (double X, double Y)[] places =
            [
                (box.X, box.Y), (right, box.Y), (box.X, bottom), (right, bottom), (box.X, box.CenterY - (Side / 2)), (right, box.CenterY - (Side / 2)),
                (box.CenterX - (wide / 2), box.Y), (box.CenterX - (wide / 2), bottom),
                .. Enumerable.Range(1, Math.Max(0, (int)(box.Width / 6))).Where(at => at * 6 < box.Width - wide).Select(at => (box.X + (at * 6.0), box.Y)),
            ];
            var free = places.Select(place => new Box(place.X, place.Y, wide, Side)).Where(tag => scene.IsFree(tag) && !numbers.Overlaps(tag)).ToList();
            if (free.Count > 0)
            {
                var at = free.FindIndex(tag => plain.Any(metal => metal.Contains(tag)));
                var tag = free[Math.Max(0, at)];
                scene.Box(Layer.Label, tag, null, new Stroke(PartLook.Ink, 0.3));
                scene.Text(Layer.Label, letter, tag.CenterX, tag.CenterY + (FontBook.CapHeight * Print.Least / 2), Print.Least, tag, Face.Bold, Align.Center);
                scene.Taken.ReplaceLast(Box.FromEdges(tag.X - 0.5, tag.Y - 0.3, tag.Right + 0.5, tag.Bottom + 0.3));
            }
        }
    }
}
