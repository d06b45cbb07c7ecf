namespace Nest.Output.Scenes;

/// <summary>A small mark without a direction.</summary>
internal enum Mark
{
    Dot,
    Plus,
    Cross,
    Square,
    Ring,
}

/// <summary>Fills a box with small marks, every other row shifted by half their distance; only whole marks are set.</summary>
internal static class Marks
{
    /// <param name="spacing">From mark to mark, in millimetres on paper. O(marks).</param>
    public static List<Segment> Of(Box box, double spacing, Mark mark)
    {
        var segments = new List<Segment>();
        var size = mark == Mark.Dot ? 0.18 : Math.Min(0.55, spacing / 5);
        var row = 0;
        for (var y = box.Y + (spacing / 2); y + size <= box.Bottom; y += spacing, row++)
        {
            for (var x = box.X + (row % 2 == 0 ? spacing / 2 : spacing); x + size <= box.Right; x += spacing)
            {
                if (x - size >= box.X && y - size >= box.Y)
                {
                    segments.AddRange(One(x, y, size, mark));
                }
            }
        }

        return segments;
    }

    private static Segment[] One(double x, double y, double r, Mark mark) => mark switch
    {
        Mark.Plus => [new(x - r, y, x + r, y), new(x, y - r, x, y + r)],
        Mark.Cross => [new(x - r, y - r, x + r, y + r), new(x - r, y + r, x + r, y - r)],
        Mark.Square => [new(x - r, y - r, x + r, y - r), new(x + r, y - r, x + r, y + r), new(x + r, y + r, x - r, y + r), new(x - r, y + r, x - r, y - r)],
        Mark.Ring => [new(x - r, y, x, y - r), new(x, y - r, x + r, y), new(x + r, y, x, y + r), new(x, y + r, x - r, y)],
        _ => [new(x - r, y, x + r, y)],
    };
}
