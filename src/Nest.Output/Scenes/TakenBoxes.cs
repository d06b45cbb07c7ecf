namespace Nest.Output.Scenes;

/// <summary>Boxes that texts must keep off, by the squares of a grid that they touch: a page may have thousands of labels, and each is
/// tried in many sizes.</summary>
internal sealed class TakenBoxes
{
    private const double Square = 8;

    private readonly Dictionary<(int X, int Y), List<Box>> _squares = [];
    private Box _last;

    public void Add(Box box)
    {
        _last = box;
        foreach (var square in Squares(box))
        {
            if (!_squares.TryGetValue(square, out var boxes))
            {
                _squares[square] = boxes = [];
            }

            boxes.Add(box);
        }
    }

    /// <summary>Puts another box in the place of the one that was added last.</summary>
    public void ReplaceLast(Box box)
    {
        foreach (var square in Squares(_last))
        {
            var boxes = _squares[square];
            boxes.RemoveAt(boxes.LastIndexOf(_last));
        }

        Add(box);
    }

    public bool Overlaps(Box box) =>
        Squares(box).Any(square => _squares.TryGetValue(square, out var boxes) && boxes.Exists(taken => taken.Overlaps(box)));

    private static IEnumerable<(int X, int Y)> Squares(Box box)
    {
        for (var x = (int)Math.Floor(box.X / Square); x <= (int)Math.Floor(box.Right / Square); x++)
        {
            for (var y = (int)Math.Floor(box.Y / Square); y <= (int)Math.Floor(box.Bottom / Square); y++)
            {
                yield return (x, y);
            }
        }
    }
}
