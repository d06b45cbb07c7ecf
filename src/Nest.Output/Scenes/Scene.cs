using Nest.Output.Fonts;

namespace Nest.Output.Scenes;

/// <summary>A colour as red, green and blue.</summary>
public readonly record struct Tint(byte Red, byte Green, byte Blue)
{
    /// <summary>No light at all.</summary>
    public static Tint Black { get; } = new(0, 0, 0);

    /// <summary>The paper.</summary>
    public static Tint White { get; } = new(255, 255, 255);

    /// <summary>From 0xRRGGBB.</summary>
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

    /// <summary>The plate or bar.</summary>
    Sheet,

    /// <summary>A blank.</summary>
    Piece,

    /// <summary>A leftover that is kept.</summary>
    Offcut,

    /// <summary>What is thrown away.</summary>
    Scrap,

    /// <summary>Damage: nothing is cut from it.</summary>
    KeepOut,

    /// <summary>A cut, or its kerf.</summary>
    Cut,

    /// <summary>Lengths along an edge.</summary>
    Ruler,

    /// <summary>The list of what letters stand for.</summary>
    Key,

    /// <summary>Letters and sizes on the metal.</summary>
    Label,
}

/// <summary>A thing to draw. All positions are on paper, in millimetres.</summary>
public abstract record Element(Layer Layer);

/// <summary>A rectangle, filled or framed.</summary>
public sealed record BoxElement(Layer Layer, Box Box, Tint? Fill, Stroke? Stroke) : Element(Layer);

/// <summary>A circle around a point, filled or framed.</summary>
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
    /// <summary>The whole page.</summary>
    public Box Area => new(0, 0, Width, Height);

    /// <summary>The lines of text on it.</summary>
    public IEnumerable<TextElement> Texts => Elements.OfType<TextElement>();
}
