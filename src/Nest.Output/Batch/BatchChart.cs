using System.Globalization;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Batch;

/// <summary>Cost per set over the number of sets: the curve, what is proven below it, steps and best quantities.</summary>
internal static class BatchChart
{
    private const double Width = 240;
    private const double Height = 150;
    private static readonly int[] Factors = [1, 2, 5, 10];
    private static readonly Tint Curve = Tint.Of(0x1F5FA8);
    private static readonly Tint Bound = Tint.Of(0x8C8C8C);
    private static readonly Tint BestMark = Tint.Of(0x1B7F3B);

    public static Scene Draw(string title, string currency, IReadOnlyList<BatchRow> rows)
    {
        var scene = new SceneBuilder("batch", Width, Height);
        var shown = rows.Where(row => row.Complete).ToList();
        var plot = Box.FromEdges(26, 22, Width - 8, Height - 22);
        scene.Box(Layer.Page, scene.Area, Tint.White);
        scene.Text(Layer.Page, title, 8, 10, 5.5, scene.Area, Face.Bold);
        scene.Text(Layer.Page, $"cost per set in {currency}; grey: nothing is cheaper; dots: best quantities; ticks above: something more is bought, long ones: at a price break", 8, 17, 3.2, scene.Area);
        if (shown.Count == 0)
        {
            return scene.Build();
        }

        var most = (double)shown.Max(PerSet);
        var bounded = shown.Where(row => row.LowerBound is not null).ToList();
        var least = (double)bounded.Select(BoundPerSet).Append(shown.Min(PerSet)).Min();
        var step = Round((most - least) / 6);
        var low = Math.Floor(Math.Max(0, least) / step) * step;
        var high = Math.Ceiling((most + 1e-9) / step) * step;
        high = high > low ? high : low + step;
        var (first, last) = (rows[0].Sets, Math.Max(rows[^1].Sets, rows[0].Sets + 1));
        for (var value = low; value <= high + (step / 2); value += step)
        {
            scene.Line(Layer.Page, plot.X, Y(value), plot.Right, Y(value), new Stroke(Tint.Of(0xDDDDDD), 0.2));
            scene.Text(Layer.Ruler, value.ToString(step < 1 ? "0.00" : "0.##", CultureInfo.InvariantCulture), plot.X - 2, Y(value) + 1.1, 3, scene.Area, Face.Regular, Align.Right);
        }

        var every = (int)Math.Max(1, Round((last - first) / 10.0));
        for (var sets = (first + every - 1) / every * every; sets <= rows[^1].Sets; sets += every)
        {
            scene.Line(Layer.Page, X(sets), plot.Bottom, X(sets), plot.Bottom + 1.5, new Stroke(Tint.Black, 0.3));
            scene.Text(Layer.Ruler, sets.ToString(CultureInfo.InvariantCulture), X(sets), plot.Bottom + 5.5, 3, scene.Area, Face.Regular, Align.Center);
        }

        scene.Text(Layer.Ruler, "sets", plot.CenterX, plot.Bottom + 12, 3.4, scene.Area, Face.Regular, Align.Center);
        scene.Box(Layer.Page, plot, null, new Stroke(Tint.Black, 0.4));
        Line(bounded, BoundPerSet, Bound, 0.4);
        Line(shown, PerSet, Curve, 0.7);
        foreach (var row in shown.Where(row => row.Step))
        {
            scene.Line(Layer.Page, X(row.Sets), plot.Y, X(row.Sets), plot.Y + 2, new Stroke(Tint.Black, 0.3));
        }

        foreach (var row in shown.Skip(1).Where(row => row.PriceBreaks.Length > 0))
        {
            scene.Line(Layer.Page, X(row.Sets), plot.Y, X(row.Sets), plot.Y + 5, new Stroke(BestMark, 0.5));
        }

        // Cheapest first: a label that would hide another is left out.
        foreach (var row in shown.Where(row => row.Best).OrderBy(PerSet))
        {
            var (x, y) = (X(row.Sets), Y((double)PerSet(row)));
            scene.Add(new CircleElement(Layer.Label, x, y, 1.3, BestMark, null));
            var text = row.Sets.ToString(CultureInfo.InvariantCulture);
            var box = new Box(x - 4, y + 2, 8, 4.5);
            if (scene.IsFree(box) && plot.Contains(box))
            {
                scene.Text(Layer.Label, text, x, y + 5.4, 3.2, box, Face.Bold, Align.Center, BestMark);
            }
        }

        return scene.Build();

        double X(int sets) => plot.X + 3 + ((plot.Width - 6) * (sets - first) / (last - first));

        double Y(double value) => plot.Bottom - (plot.Height * (value - low) / (high - low));

        void Line(List<BatchRow> along, Func<BatchRow, decimal> of, Tint tint, double width) => scene.Lines(
            Layer.Piece,
            [.. along.Zip(along.Skip(1), (a, b) => new Segment(X(a.Sets), Y((double)of(a)), X(b.Sets), Y((double)of(b))))],
            new Stroke(tint, width));
    }

    private static decimal BoundPerSet(BatchRow row) => row.LowerBound!.Value.Amount / row.Sets;

    private static decimal PerSet(BatchRow row) => row.Cost.Amount / row.Sets;

    /// <summary>The next of 1, 2, 5 times a power of ten.</summary>
    private static double Round(double value)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(value, 0.01))));
        return Factors.First(factor => factor * power >= value - 1e-9) * power;
    }
}
