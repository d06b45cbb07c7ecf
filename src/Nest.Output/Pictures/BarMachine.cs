using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>Stop, blade and vise at the end of a bar that everything is measured from.</summary>
internal static class BarMachine
{
    public static readonly Tint Steel = Tint.Of(0xC9CFD6);

    private const double Out = 2.2;

    /// <param name="end">X of the end on paper.</param>
    /// <param name="inward">1: the bar goes to the right from there; −1: to the left.</param>
    /// <param name="blade">X where the first blank is parted.</param>
    public static void Draw(SceneBuilder scene, Box bar, double end, int inward, double blade)
    {
        // The stop: what the end is pushed against, hatched behind as a fixed thing is on a drawing.
        var plate = Span(end, end - (inward * 1.1), bar.Y - 0.6, bar.Bottom + 2.6);
        scene.Box(Layer.Ruler, plate, PartLook.Reference);
        var behind = Span(end - (inward * 1.1), end - (inward * 3), bar.Y - 0.6, bar.Bottom + 2.6);
        scene.Lines(Layer.Ruler, Hatch.Diagonal(behind, 1.3), new Stroke(PartLook.Reference, 0.25));

        // The jaws hold the rest, behind the blade.
        var from = blade + (inward * 1.6);
        foreach (var (top, bottom) in new[] { (bar.Y - Out, bar.Y), (bar.Bottom, bar.Bottom + Out) })
        {
            scene.Box(Layer.Ruler, Span(from, from + (inward * 9), top, bottom).Clip(new Box(bar.X, top, bar.Width, bottom - top)), Steel, new Stroke(PartLook.Ink, 0.2));
        }

        scene.Line(Layer.Ruler, blade, bar.Y - 2.4, blade, bar.Bottom + 2.6, new Stroke(PartLook.Reference, 0.35, 1.6));
    }

    /// <summary>What the symbols mean, as a row of small ones with words. Returns where it ends.</summary>
    public static double Key(SceneBuilder scene, Sheets.SheetContext context, double left, double middle, double right)
    {
        var x = left;
        One(context.Texts.MachineStop, at => scene.Box(Layer.Ruler, new Box(at + 1, middle - 1.6, 1.1, 3.2), PartLook.Reference));
        One(context.Texts.MachineBlade, at => scene.Line(Layer.Ruler, at + 1.6, middle - 1.8, at + 1.6, middle + 1.8, new Stroke(PartLook.Reference, 0.35, 1)));
        One(context.Texts.MachineVise, at => scene.Box(Layer.Ruler, new Box(at, middle - 1, 3.2, 2), Steel, new Stroke(PartLook.Ink, 0.2)));
        return x;

        void One(string word, Action<double> draw)
        {
            var wide = Fonts.FontBook.Width(word, Fonts.Face.Regular, Sheets.Print.Least);
            if (x + 4.4 + wide > right)
            {
                return;
            }

            draw(x);
            var within = new Box(x + 4.2, middle - 2.4, wide + 0.2, 4.8);
            scene.Text(Layer.Ruler, word, within.X, middle + (Fonts.FontBook.CapHeight * Sheets.Print.Least / 2), Sheets.Print.Least, within);
            x += 4.2 + wide + 4;
        }
    }

    private static Box Span(double one, double other, double top, double bottom) =>
        Box.FromEdges(Math.Min(one, other), top, Math.Max(one, other), bottom);
}
