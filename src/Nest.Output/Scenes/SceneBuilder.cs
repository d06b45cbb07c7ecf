using Nest.Output.Fonts;

namespace Nest.Output.Scenes;

internal enum Align
{
    Left,
    Center,
    Right,
}

/// <summary>Collects the elements of one scene and keeps account of where texts are.</summary>
internal sealed class SceneBuilder(string name, double width, double height)
{
    private readonly List<Element> _elements = [];

    public Box Area => new(0, 0, width, height);

    public string Name => name;

    /// <summary>Boxes of texts and number marks so far: what a later text must keep off.</summary>
    public TakenBoxes Taken { get; } = new();

    public Scene Build() => new(name, width, height, [.. _elements]);

    public void Add(Element element) => _elements.Add(element);

    /// <summary>Adds a box under all labels that are there already.</summary>
    public void BoxUnderLabels(Box box, Stroke stroke)
    {
        var first = _elements.FindIndex(element => element.Layer == Layer.Label);
        _elements.Insert(first < 0 ? _elements.Count : first, new BoxElement(Layer.Sheet, box, null, stroke));
    }

    public void Box(Layer layer, Box box, Tint? fill, Stroke? stroke = null)
    {
        if (box.Width > 0 && box.Height > 0)
        {
            Add(new BoxElement(layer, box, fill, stroke));
        }
    }

    public void Line(Layer layer, double x1, double y1, double x2, double y2, Stroke stroke) =>
        Add(new LinesElement(layer, [new(x1, y1, x2, y2)], stroke));

    public void Lines(Layer layer, IReadOnlyList<Segment> segments, Stroke stroke)
    {
        if (segments.Count > 0)
        {
            Add(new LinesElement(layer, segments, stroke));
        }
    }

    public bool IsFree(Box box) => !Taken.Overlaps(box);

    /// <summary>A line of text whose baseline starts (ends, is centred) at x; shortened with an ellipsis to stay within.</summary>
    public Box Text(
        Layer layer, string text, double x, double y, double size, Box within,
        Face face = Face.Regular, Align align = Align.Left, Tint? tint = null)
    {
        var room = align switch
        {
            Align.Left => within.Right - x,
            Align.Right => x - within.X,
            _ => 2 * Math.Min(x - within.X, within.Right - x),
        };
        var shown = FontBook.Shorten(text, face, size, room);
        if (shown.Length == 0)
        {
            return new(x, y, 0, 0);
        }

        var wide = FontBook.Width(shown, face, size);
        var left = align == Align.Left ? x : align == Align.Right ? x - wide : x - (wide / 2);
        var bounds = new Box(left, y - (FontBook.CapHeight * size), wide, (FontBook.CapHeight + FontBook.Descent) * size);
        Add(new TextElement(layer, shown, left, y, size, face, tint ?? Tint.Black, false, bounds, within));
        Taken.Add(bounds);
        return bounds;
    }

    /// <summary>A standing line of text centred on a point; not shortened: the caller has measured it.</summary>
    public Box Standing(Layer layer, string text, double centerX, double centerY, double size, Box within, Face face = Face.Regular, Tint? tint = null)
    {
        var wide = FontBook.Width(text, face, size);
        var baseline = centerX + (FontBook.CapHeight * size / 2);
        var lower = centerY + (wide / 2);
        var bounds = new Box(
            baseline - (FontBook.CapHeight * size), lower - wide, (FontBook.CapHeight + FontBook.Descent) * size, wide);
        Add(new TextElement(layer, FontBook.Clean(text), baseline, lower, size, face, tint ?? Tint.Black, true, bounds, within));
        Taken.Add(bounds);
        return bounds;
    }

    /// <summary>A paragraph; returns the Y below its last line.</summary>
    public double Paragraph(Layer layer, string text, Box within, double top, double size, Face face = Face.Regular, double leading = 1.3, Tint? tint = null)
    {
        var y = top;
        foreach (var line in FontBook.Wrap(text, face, size, within.Width))
        {
            Text(layer, line, within.X, y + (FontBook.CapHeight * size), size, within, face, tint: tint);
            y += size * leading;
        }

        return y;
    }

    public static double ParagraphHeight(string text, double width, double size, Face face = Face.Regular, double leading = 1.3) =>
        FontBook.Wrap(text, face, size, width).Count * size * leading;

    /// <summary>A black disc with a white number.</summary>
    public void Mark(Layer layer, string number, double x, double y, double radius)
    {
        Add(new CircleElement(layer, x, y, radius, Tint.Black, new Stroke(Tint.White, radius * 0.12)));
        var size = MarkTextSize(number, radius);
        var box = new Box(x - radius, y - radius, radius * 2, radius * 2);
        Text(layer, number, x, y + (FontBook.CapHeight * size / 2), size, box, Face.Bold, Align.Center, Tint.White);
        Taken.ReplaceLast(box);
    }

    private static double MarkTextSize(string number, double radius) =>
        Math.Min(radius * 1.35, radius * 1.7 / FontBook.Width(number, Face.Bold, 1));
}
