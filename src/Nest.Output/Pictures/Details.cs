using Nest.Core.Plans;
using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Windows of a plate that show small pieces large enough for their numbers.</summary>
/// <remarks>The box around the pieces that need it is halved along its longer side until the label of each fits at the window's
/// scale, five times at most; each piece belongs to the window that holds its middle, and is whole there.</remarks>
internal static class Details
{
    public static List<Rect> Windows(SheetContext context, Layout layout, IReadOnlyList<int> pieces, Box area)
    {
        var windows = new List<Rect>();
        if (pieces.Count > 0)
        {
            Divide([.. pieces], 5);
        }

        return windows;

        void Divide(int[] group, int depth)
        {
            var window = Around(layout, group, context.Plan.SawOf(layout).Kerf);
            if (depth == 0 || group.Length == 1 || Fits(window, group))
            {
                windows.Add(window);
                return;
            }

            var alongX = window.SizeX >= window.SizeY;
            var middle = alongX ? (window.X.Nanometres / 2) + (window.Right.Nanometres / 2) : (window.Y.Nanometres / 2) + (window.Top.Nanometres / 2);
            var low = group.Where(index => Center(index) < middle).ToArray();
            var high = group.Where(index => Center(index) >= middle).ToArray();
            if (low.Length == 0 || high.Length == 0)
            {
                windows.Add(window);
                return;
            }

            Divide(low, depth - 1);
            Divide(high, depth - 1);

            long Center(int index)
            {
                var rect = layout.Pieces[index].Area;
                return alongX ? (rect.X.Nanometres / 2) + (rect.Right.Nanometres / 2) : (rect.Y.Nanometres / 2) + (rect.Top.Nanometres / 2);
            }
        }

        bool Fits(Rect window, int[] group)
        {
            var scale = Math.Min((area.Width - 20) / View.Millimetres(window.SizeX), (area.Height - 14) / View.Millimetres(window.SizeY));
            return group.All(index =>
            {
                var piece = layout.Pieces[index];
                var shorter = Math.Min(View.Millimetres(piece.Area.SizeX), View.Millimetres(piece.Area.SizeY)) * scale;
                var longer = Math.Max(View.Millimetres(piece.Area.SizeX), View.Millimetres(piece.Area.SizeY)) * scale;
                return shorter >= 4.6 && longer >= 1.4 + FontBook.Width(context.Number(piece.PartId), Face.Bold, PieceLabel.Smallest);
            });
        }
    }

    /// <summary>On the whole picture: where each detail is.</summary>
    public static void Frames(SceneBuilder scene, SheetContext context, View view, IReadOnlyList<Rect> windows)
    {
        for (var index = 0; index < windows.Count; index++)
        {
            var box = view.Map(windows[index]);
            var frame = Box.FromEdges(box.X - 0.5, box.Y - 0.5, box.Right + 0.5, box.Bottom + 0.5);
            scene.BoxUnderLabels(frame, new Stroke(Tint.White, 1.1));
            scene.BoxUnderLabels(frame, new Stroke(PartLook.Reference, 0.5));
            var text = SheetContext.Fill(context.Texts.DetailTitle, index + 1);
            var width = FontBook.Width(text, Face.Bold, Print.Least) + 1.6;
            Box[] places =
            [
                new(box.X - 0.5, box.Bottom + 0.8, width, 4.6), new(box.X - 0.5, box.Y - 5.4, width, 4.6), new(box.Right + 0.8, box.Y, width, 4.6),
                new(box.X - width - 0.8, box.Y, width, 4.6), new(box.Right - width, box.Y + 0.5, width, 4.6),
            ];
            // Else anywhere along the frame, above it first.
            var along = Enumerable.Range(0, Math.Max(1, (int)(box.Width / 4)))
                .SelectMany(step => new[] { new Box(box.X + (step * 4), box.Y - 5.4, width, 4.6), new Box(box.X + (step * 4), box.Bottom + 0.8, width, 4.6), new Box(box.X + (step * 4), box.Y + 0.4, width, 4.6) });
            var down = Enumerable.Range(0, Math.Max(1, (int)(box.Height / 2)))
                .SelectMany(step => new[] { new Box(box.Right - width, box.Bottom - 4.8 - (step * 2), width, 4.6), new Box(box.Right + 0.8, box.Bottom - 4.8 - (step * 2), width, 4.6), new Box(box.X + 0.2, box.Bottom - 4.8 - (step * 2), width, 4.6) });
            var free = places.Concat(along).Concat(down).Where(place => view.Box.Contains(place) && scene.IsFree(place)).Take(1).ToArray();
            if (free.Length == 1)
            {
                scene.Box(Layer.Label, free[0], null, new Stroke(PartLook.Reference, 0.3));
                scene.Text(Layer.Label, text, free[0].X + 0.8, free[0].Y + 3.5, Print.Least, free[0], Face.Bold, tint: PartLook.Reference);
            }
        }
    }

    private static Rect Around(Layout layout, int[] group, Length kerf)
    {
        var left = Length.MaxValue;
        var bottom = Length.MaxValue;
        var right = Length.Zero;
        var top = Length.Zero;
        foreach (var index in group)
        {
            var area = layout.Pieces[index].Area;
            left = Length.Min(left, area.X);
            bottom = Length.Min(bottom, area.Y);
            right = Length.Max(right, area.Right);
            top = Length.Max(top, area.Top);
        }

        // A little of the neighbourhood, so that the eye finds the place: around one tiny piece more than its kerf.
        var margin = Length.Max(kerf * 3, Length.FromNanometres(Math.Max((right - left).Nanometres, (top - bottom).Nanometres) / 40));
        left = Length.Max(Length.Zero, left - margin);
        bottom = Length.Max(Length.Zero, bottom - margin);
        right = Length.Min(layout.Sheet.Right, right + margin);
        top = Length.Min(layout.Sheet.Top, top + margin);
        return new(left, bottom, right - left, top - bottom);
    }
}
