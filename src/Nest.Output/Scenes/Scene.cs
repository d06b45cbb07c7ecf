using Nest.Output.Fonts;

namespace Nest.Output.Scenes;

/// <summary>A colour as red, green and blue.</summary>
public readonly record struct Tint(byte Red, byte Green, byte Blue)
{
    public static Tint Black { get; } = new(0, 0, 0);

    public static Tint White { get; } = new(255, 255, 255);

    public static Tint Of(int rgb) => new((byte)(rgb >> 16 & 255), (byte)(rgb >> 8 & 255), (byte)(rgb & 255));
}

/// <summary>A line's look.</summary>
/// <param name="Width">In millimetres.</param>
/// <param name="Dash">Length of dash and gap in millimetres; 0: solid.</param>
public readonly record struct Stroke(Tint Tint, double Width, double Dash = 0);

/// <summary>What an element of a scene shows; tests and backends tell them apart by it.</summary>
public enum Layer
{
    /// <summary>Frames, bands, tables.</summary>
    Page,
    Sheet,
    Piece,
    Offcut,
    Scrap,
    KeepOut,
    Cut,
    Ruler,
    Key,
    Label,
}

/// <summary>A thing to draw. All positions are on paper, in millimetres.</summary>
public abstract record Element(Layer Layer);

public sealed record BoxElement(Layer Layer, Box Box, Tint? Fill, Stroke? Stroke) : Element(Layer);

public sealed record CircleElement(Layer Layer, double X, double Y, double Radius, Tint? Fill, Stroke? Stroke) : Element(Layer);

/// <summary>A straight line.</summary>
public readonly record struct Segment(double X1, double Y1, double X2, double Y2);

/// <summary>Lines of one look: hatches, rulers, leaders.</summary>
public sealed record LinesElement(Layer Layer, IReadOnlyList<Segment> Segments, Stroke Stroke) : Element(Layer);

/// <summary>One line of text.</summary>
/// <param name="X">Left end of the baseline (of a standing text: its lower end).</param>
/// <param name="Y">The baseline.</param>
/// <param name="Standing">Turned a quarter to the left: read from the right-hand side.</param>
/// <param name="Bounds">The measured box.</param>
/// <param name="Within">The box that it must not leave.</param>
public sealed record TextElement(
    Layer Layer, string Text, double X, double Y, double Size, Face Face, Tint Tint, bool Standing, Box Bounds, Box Within)
    : Element(Layer);

/// <summary>One page or picture, laid out: data that backends draw and tests measure.</summary>
public sealed record Scene(string Name, double Width, double Height, IReadOnlyList<Element> Elements)
{
    public Box Area => new(0, 0, Width, Height);

    public IEnumerable<TextElement> Texts => Elements.OfType<TextElement>();
}
