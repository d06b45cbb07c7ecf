using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>One measure of a chain: its two ends on paper, and what stands on it.</summary>
internal readonly record struct Measure(double From, double To, string Text)
{
    public double Middle => (From + To) / 2;

    public double Length => Math.Abs(To - From);
}

/// <summary>Measures in a row as on a drawing: witness lines, thin lines with arrowheads, the figures above them; where a measure is too
/// short for its figures they stand below, at a leader.</summary>
internal static class DimensionChain
{
    private const double Size = Print.Least;
    private const double Arrow = 1.6;
    private static readonly Stroke Thin = new(PartLook.Ink, 0.15);

    /// <summary>Whether some figures have to stand at leaders.</summary>
    public static bool NeedsLeaders(IEnumerable<Measure> chain) => chain.Any(measure => !Fits(measure));

    /// <summary>Below metal that ends at <paramref name="metal"/>; the line lies at <paramref name="y"/>. Figures for which even a leader has no
    /// room are left out.</summary>
    public static void Along(SceneBuilder scene, IReadOnlyList<Measure> chain, double metal, double y, Box within)
    {
        var lines = new List<Segment>();
        foreach (var measure in chain)
        {
            lines.Add(new(measure.From, metal + 0.6, measure.From, y + 0.9));
            lines.Add(new(measure.To, metal + 0.6, measure.To, y + 0.9));
            lines.Add(new(measure.From, y, measure.To, y));
            lines.AddRange(Heads(measure.From, measure.To, (x, across) => (x, y + across)));
            if (Fits(measure))
            {
                scene.Text(Layer.Ruler, measure.Text, measure.Middle, y - 0.9, Size, within, Face.Regular, Align.Center);
            }
        }

        var tight = chain.Where(measure => !Fits(measure)).ToList();
        double[]? places;
        while ((places = Spreading.Places([.. tight.Select(one => one.Middle)], [.. tight.Select(Wide)], within.X, within.Right, 1.4)) is null)
        {
            // The shortest is the one that can be missed.
            tight.Remove(tight.MinBy(one => one.Length));
        }

        for (var at = 0; at < tight.Count; at++)
        {
            var foot = y + 5.6;
            lines.Add(new(tight[at].Middle, y, places[at], foot - (FontBook.CapHeight * Size) - 0.5));
            scene.Text(Layer.Ruler, tight[at].Text, places[at], foot, Size, within, Face.Regular, Align.Center);
        }

        scene.Lines(Layer.Ruler, lines, Thin);
    }

    /// <summary>Left of metal that begins at <paramref name="metal"/>; the line lies at <paramref name="x"/>, the figures stand.</summary>
    public static void Up(SceneBuilder scene, IReadOnlyList<Measure> chain, double metal, double x, Box within)
    {
        var lines = new List<Segment>();
        foreach (var measure in chain)
        {
            lines.Add(new(metal - 0.6, measure.From, x - 0.9, measure.From));
            lines.Add(new(metal - 0.6, measure.To, x - 0.9, measure.To));
            lines.Add(new(x, measure.From, x, measure.To));
            lines.AddRange(Heads(measure.From, measure.To, (y, across) => (x + across, y)));
            var wide = Wide(measure);
            if (measure.Length >= wide + 1)
            {
                scene.Standing(Layer.Ruler, measure.Text, x - 0.9 - (FontBook.CapHeight * Size / 2), measure.Middle, Size, within);
            }
            else if (measure.Length >= Size + 0.4)
            {
                scene.Text(Layer.Ruler, measure.Text, x - 1.2, measure.Middle + (FontBook.CapHeight * Size / 2), Size, within, Face.Regular, Align.Right);
            }
        }

        scene.Lines(Layer.Ruler, lines, Thin);
    }

    private static bool Fits(Measure measure) => measure.Length >= Wide(measure) + 1;

    private static double Wide(Measure measure) => FontBook.Width(measure.Text, Face.Regular, Size);

    // Arrowheads inside; a stroke across where the measure is too short for them.
    private static IEnumerable<Segment> Heads(double from, double to, Func<double, double, (double X, double Y)> at)
    {
        var (low, high) = (Math.Min(from, to), Math.Max(from, to));
        if (high - low < 2.5 * Arrow)
        {
            yield return Between(at(low - 0.6, 0.6), at(low + 0.6, -0.6));
            yield return Between(at(high - 0.6, 0.6), at(high + 0.6, -0.6));
            yield break;
        }

        yield return Between(at(low, 0), at(low + Arrow, 0.45));
        yield return Between(at(low, 0), at(low + Arrow, -0.45));
        yield return Between(at(high, 0), at(high - Arrow, 0.45));
        yield return Between(at(high, 0), at(high - Arrow, -0.45));

        static Segment Between((double X, double Y) one, (double X, double Y) other) => new(one.X, one.Y, other.X, other.Y);
    }
}
