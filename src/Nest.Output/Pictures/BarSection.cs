using Nest.Core.Jobs;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The section of a bar to scale, as it lies between the jaws of the vise, seen along the bar. A flat bar lies flat (common practice, no
/// source; the machine's manual goes first); of the others see <see cref="SectionOutline"/>.</summary>
internal static class BarSection
{
    public const double Width = 26;

    private const double Most = 15;

    public static void Draw(SceneBuilder scene, SheetContext context, Stock stock, bool onThickness, double left, double top)
    {
        var outline = SectionOutline.Of(stock, onThickness);
        var (wide, tall) = outline is null ? (View.Millimetres(stock.Width), View.Millimetres(stock.Thickness)) : (outline.Width, outline.Height);
        var scale = Math.Min(2, Most / Math.Max(wide, tall));
        var (w, h) = (wide * scale, tall * scale);
        var (x, floor) = (left + (Width / 2), top + 17);
        var metal = new Box(x - (w / 2), floor - h, w, h);
        var pen = new Stroke(PartLook.Ink, 0.35);
        if (outline is not null)
        {
            foreach (var part in outline.Metal)
            {
                scene.Lines(Layer.Sheet, Hatch.Diagonal(new Box(metal.X + (part.X * scale), floor - ((part.Y + part.Height) * scale), part.Width * scale, part.Height * scale), 1.6), new Stroke(PartLook.Ink, 0.12));
            }

            foreach (var loop in outline.Loops)
            {
                var points = loop.Select(point => (X: metal.X + (point.X * scale), Y: floor - (point.Y * scale))).ToArray();
                scene.Lines(Layer.Sheet, [.. points.Select((point, at) => (point, next: points[(at + 1) % points.Length])).Select(side => new Segment(side.point.X, side.point.Y, side.next.X, side.next.Y))], pen);
            }
        }
        else if (stock.Form is Form.RoundBar or Form.RoundTube)
        {
            scene.Add(new CircleElement(Layer.Sheet, metal.CenterX, metal.CenterY, w / 2, Tint.White, pen));
            if (stock.Detail?.Wall is { } wall)
            {
                scene.Add(new CircleElement(Layer.Sheet, metal.CenterX, metal.CenterY, (w / 2) - (View.Millimetres(wall) * scale), null, pen));
            }

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
        scene.Text(Layer.Ruler, ShortName(context, stock), x, floor + 2 + (FontBook.CapHeight * Print.Least) + 0.4, Print.Least, within, Face.Bold, Align.Center);
        scene.Text(Layer.Ruler, ScaleText.Of(context, scale), x, floor + 6.2 + (FontBook.CapHeight * Print.Least) + 0.4, Print.Least, within, Face.Regular, Align.Center);
    }

    /// <summary>Without the name of a profile, which may be long and stands in the head.</summary>
    private static string ShortName(SheetContext context, Stock stock) =>
        stock.Form == Form.Profile ? context.Size(stock.Width, stock.Thickness) : context.SectionOf(stock).Replace(" × ", stock.Detail is null ? " × " : "×", StringComparison.Ordinal);
}
