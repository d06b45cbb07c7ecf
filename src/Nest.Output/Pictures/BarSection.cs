using Nest.Core.Jobs;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The section of a bar to scale, as it lies between the jaws of the vise, seen along the bar. A flat bar lies flat (common practice, no
/// source; the machine's manual goes first).</summary>
internal static class BarSection
{
    public const double Width = 26;

    private const double Most = 15;

    public static void Draw(SceneBuilder scene, SheetContext context, Stock stock, double left, double top)
    {
        var (wide, tall) = (View.Millimetres(stock.Width), View.Millimetres(stock.Thickness));
        var scale = Math.Min(2, Most / Math.Max(wide, tall));
        var (w, h) = (wide * scale, tall * scale);
        var (x, floor) = (left + (Width / 2), top + 17);
        var metal = new Box(x - (w / 2), floor - h, w, h);
        var pen = new Stroke(PartLook.Ink, 0.35);
        if (stock.Form == Form.RoundBar)
        {
            scene.Add(new CircleElement(Layer.Sheet, metal.CenterX, metal.CenterY, w / 2, Tint.White, pen));
            scene.Lines(Layer.Sheet, [new(metal.X - 1, metal.CenterY, metal.Right + 1, metal.CenterY), new(metal.CenterX, metal.Y - 1, metal.CenterX, metal.Bottom)], new Stroke(PartLook.Ink, 0.12, 1.4));
        }
        else
        {
            scene.Box(Layer.Sheet, metal, Tint.White, pen);
            scene.Lines(Layer.Sheet, Hatch.Diagonal(metal, 1.6), new Stroke(PartLook.Ink, 0.12));
        }

        // The vise: a bed and two jaws, the fixed one at the left.
        var jaw = Math.Max(5, h * 0.7);
        scene.Box(Layer.Sheet, new Box(metal.X - 3, floor - jaw, 3, jaw), BarMachine.Steel, new Stroke(PartLook.Ink, 0.2));
        scene.Box(Layer.Sheet, new Box(metal.Right, floor - jaw, 3, jaw), BarMachine.Steel, new Stroke(PartLook.Ink, 0.2));
        scene.Box(Layer.Sheet, Box.FromEdges(metal.X - 3, floor, metal.Right + 3, floor + 1.4), BarMachine.Steel, new Stroke(PartLook.Ink, 0.2));
        var within = new Box(left, floor + 2, Width, 10);
        scene.Text(Layer.Ruler, Section(context, stock), x, floor + 2 + (FontBook.CapHeight * Print.Least) + 0.4, Print.Least, within, Face.Bold, Align.Center);
        scene.Text(Layer.Ruler, ScaleText.Of(context, scale), x, floor + 6.2 + (FontBook.CapHeight * Print.Least) + 0.4, Print.Least, within, Face.Regular, Align.Center);
    }

    private static string Section(SheetContext context, Stock stock) => stock.Form == Form.RoundBar
        ? "Ø " + context.Length(stock.Width, false)
        : context.Size(stock.Width, stock.Thickness);
}
