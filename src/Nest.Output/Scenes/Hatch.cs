namespace Nest.Output.Scenes;

/// <summary>Line patterns that fill a box, as plain segments clipped to it.</summary>
internal static class Hatch
{
    /// <summary>Rising diagonals, or falling ones; the phase belongs to the paper so that neighbours join.</summary>
    public static List<Segment> Diagonal(Box box, double spacing, bool falling = false)
    {
        var segments = new List<Segment>();
        if (box.Width <= 0 || box.Height <= 0)
        {
            return segments;
        }

        // Lines x + y = c (rising on paper) or x − y = c (falling).
        var low = falling ? box.X - box.Bottom : box.X + box.Y;
        var high = falling ? box.Right - box.Y : box.Right + box.Bottom;
        for (var c = Math.Ceiling(low / spacing) * spacing; c < high; c += spacing)
        {
            if (falling)
            {
                var x1 = Math.Max(box.X, c + box.Y);
                var x2 = Math.Min(box.Right, c + box.Bottom);
                segments.Add(new(x1, x1 - c, x2, x2 - c));
            }
            else
            {
                var x1 = Math.Max(box.X, c - box.Bottom);
                var x2 = Math.Min(box.Right, c - box.Y);
                segments.Add(new(x1, c - x1, x2, c - x2));
            }
        }

        return segments;
    }

    /// <summary>Horizontal lines, whole or in dashes.</summary>
    public static List<Segment> Horizontal(Box box, double spacing, double dash = 0)
    {
        var segments = new List<Segment>();
        for (var y = box.Y + (spacing / 2); y < box.Bottom; y += spacing)
        {
            Dashes(box.X, box.Right, dash, (from, to) => segments.Add(new(from, y, to, y)));
        }

        return segments;
    }

    private static void Dashes(double from, double to, double dash, Action<double, double> add)
    {
        if (dash <= 0)
        {
            add(from, to);
            return;
        }

        for (var at = from + (dash / 2); at < to; at += dash * 2)
        {
            add(at, Math.Min(at + dash, to));
        }
    }
}
