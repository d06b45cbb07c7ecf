using System.Globalization;
using Nest.Core.Quantities;
using Nest.Solve;

namespace Nest.Desk.Model;

/// <summary>Cost and bound over time as two stepped lines, ready to be drawn.</summary>
/// <param name="Cost">Points of the cost's line, as an SVG polyline has them.</param>
/// <param name="Bound">Points of the bound's line.</param>
/// <param name="Marks">Amounts beside the left edge, with their height.</param>
public sealed record Chart(string Cost, string Bound, IReadOnlyList<(string Text, double Y)> Marks, string Ends)
{
    public const int Width = 640;
    public const int Height = 240;
    public const int Left = 76;
    public const int Bottom = 216;
    private const int Top = 12;

    private static readonly int[] Steps = [5, 2, 1];

    /// <param name="points">In the order of time.</param>
    /// <param name="seconds">End of the time axis at least.</param>
    /// <returns>Null while there is nothing to draw.</returns>
    public static Chart? Of(IReadOnlyList<SolveProgress> points, double seconds)
    {
        if (points.Count == 0)
        {
            return null;
        }

        var most = points.Max(point => point.Cost.Amount);
        var least = points.Min(point => Math.Min(point.Cost.Amount, point.Bound.Value?.Amount ?? point.Cost.Amount));
        // A bound far below would press the cost into a line: the axis begins a little below half of the best cost at the earliest.
        least = Math.Max(least, points[^1].Cost.Amount * 0.5m);
        most = Math.Min(most, points[^1].Cost.Amount * 1.3m);
        var (low, high) = ((double)least, (double)Math.Max(most, least + 0.01m));
        var room = (high - low) * 0.06;
        (low, high) = (low - room, high + room);
        var end = Math.Max(seconds, points[^1].Seconds);

        // The last value is shown for a little while too: it may be the only one.
        var last = Math.Min(X(points[^1].Seconds) + 12, Width);
        return new(Line([.. points.Select(point => (point.Seconds, point.Cost))]), Line([.. points.Where(point => point.Bound.IsKnown).Select(point => (point.Seconds, point.Bound.Value!.Value))]), [.. Round(low, high).Select(Mark)], Text($"{end:0} s"));

        double X(double at) => Left + (at / end * (Width - Left - 8));

        double Y(double amount) => Math.Clamp(Bottom - ((amount - low) / (high - low) * (Bottom - Top)), Top, Bottom);

        (string Text, double Y) Mark(double amount) => (Text($"{amount:0.##}"), Y(amount));

        // Whole multiples of 1, 2 or 5 times a power of ten, three to seven of them.
        static IEnumerable<double> Round(double from, double to)
        {
            var power = Math.Pow(10, Math.Floor(Math.Log10((to - from) / 3)));
            var step = Steps.Select(times => times * power).First(each => Math.Floor(to / each) - Math.Ceiling(from / each) >= 2);
            for (var at = Math.Ceiling(from / step); at * step <= to; at++)
            {
                yield return at * step;
            }
        }

        string Line(IReadOnlyList<(double Seconds, Money Amount)> values)
        {
            // A value holds until the next one: steps, not slopes.
            var line = new List<string>();
            for (var at = 0; at < values.Count; at++)
            {
                var y = Y((double)values[at].Amount.Amount);
                line.Add(Text($"{X(values[at].Seconds):0.#},{y:0.#}"));
                line.Add(Text($"{(at + 1 < values.Count ? X(values[at + 1].Seconds) : last):0.#},{y:0.#}"));
            }

            return string.Join(' ', line);
        }
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
