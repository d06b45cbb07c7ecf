using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>A small picture of one step at a plate: the metal on the saw as it lies in the layout's picture, the edge on the fence, the cut; and
/// an arrow where it has to be turned first.</summary>
internal static class StepIcon
{
    public const double Width = 24;
    public const double Height = 15;

    private const double Room = 2.4;

    // How far a cut is drawn beyond the metal.
    private const double Out = 2.1;

    public static void Draw(SceneBuilder scene, StepRow row, double left, double top)
    {
        var step = row.First;
        var metal = step.OnSaw.Area;
        var view = new View(metal, new Box(left + Room, top + Room, Width - (2 * Room), Height - (2 * Room)));
        var box = view.Box;
        scene.Box(Layer.Piece, box, Tint.Of(0xF2F2EC), new Stroke(PartLook.Ink, 0.25));
        foreach (var cut in row.Steps.Where(one => one.OnSaw.Name == step.OnSaw.Name))
        {
            var kerf = view.Map(cut.Kerf);
            var along = cut.Direction == CutDirection.Rip;
            scene.Line(
                Layer.Cut, along ? box.X - Out : kerf.CenterX, along ? kerf.CenterY : box.Y - Out, along ? box.Right + Out : kerf.CenterX, along ? kerf.CenterY : box.Bottom + Out,
                new Stroke(PartLook.Reference, cut == step ? 0.5 : 0.2));
        }

        Heads(scene, view, step);
        scene.Lines(Layer.Ruler, [View.Side(box, step.Against, 0.7)], new Stroke(PartLook.Ink, 1.3));
        if (step.TurnedFrom is { } before)
        {
            Turn(scene, box.CenterX, box.CenterY, StepText.Quarters(before, step.Against));
        }
    }

    // Along or across, against the outline of the metal: the cut ends in an arrowhead on both sides.
    private static void Heads(SceneBuilder scene, View view, CutStep step)
    {
        const double Long = 1.7;
        const double Half = 0.8;
        var (box, kerf) = (view.Box, view.Map(step.Kerf));
        Segment[] heads = step.Direction == CutDirection.Rip
            ? [.. Head(box.X - Out, kerf.CenterY, 1, true), .. Head(box.Right + Out, kerf.CenterY, -1, true)]
            : [.. Head(kerf.CenterX, box.Y - Out, 1, false), .. Head(kerf.CenterX, box.Bottom + Out, -1, false)];
        scene.Lines(Layer.Cut, heads, new Stroke(PartLook.Reference, 0.5));

        static Segment[] Head(double x, double y, int inward, bool along) => along
            ? [new(x, y, x + (inward * Long), y - Half), new(x, y, x + (inward * Long), y + Half)]
            : [new(x, y, x - Half, y + (inward * Long)), new(x, y, x + Half, y + (inward * Long))];
    }

    // An arc from the right, seen from above: a quarter or half a turn, with its head.
    private static void Turn(SceneBuilder scene, double x, double y, int quarters)
    {
        const double Radius = 3.6;
        var sweep = quarters switch { 1 => -90.0, 3 => 90.0, _ => -180.0 };
        var start = quarters == 3 ? -135.0 : -45.0;
        var lines = new List<Segment>();
        const int Parts = 12;
        var points = Enumerable.Range(0, Parts + 1).Select(at => At(start + (sweep * at / Parts))).ToArray();
        for (var at = 0; at < Parts; at++)
        {
            lines.Add(new(points[at].X, points[at].Y, points[at + 1].X, points[at + 1].Y));
        }

        // The head lies along the tangent at the end.
        var end = points[Parts];
        var tangent = (start + sweep + (sweep < 0 ? -90 : 90)) * Math.PI / 180;
        foreach (var side in new[] { 150.0, -150.0 })
        {
            var angle = tangent + (side * Math.PI / 180);
            lines.Add(new(end.X, end.Y, end.X + (1.7 * Math.Cos(angle)), end.Y + (1.7 * Math.Sin(angle))));
        }

        scene.Lines(Layer.Ruler, lines, new Stroke(Tint.White, 1.3));
        scene.Lines(Layer.Ruler, lines, new Stroke(PartLook.Ink, 0.5));

        (double X, double Y) At(double degrees) => (x + (Radius * Math.Cos(degrees * Math.PI / 180)), y + (Radius * Math.Sin(degrees * Math.PI / 180)));
    }
}
