using System.Numerics;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>What angled ends take along a bar and what their cuts cost, for the angles whose cosine and tangent are square roots: 30, 45
/// and 60 degrees. In whole numbers: a root rounded up is the smallest number whose square is large enough.</summary>
internal static class AngledEnds
{
    /// <summary>The blank with its angled ends; null when the saw cannot hold the part between them.</summary>
    public static SawnBlank? Add(SawnBlank square, EndAngles ends, Job job, Part part, Stock stock, Saw saw, Material material)
    {
        if (ShortEdge(ends, part) < saw.ShortestHeld)
        {
            return null;
        }

        var wider = Wider(ends, part, stock);
        var (start, end) = (Slope(ends.Start, wider), Slope(ends.End, wider));
        var oneEdge = ends.Start.Thousandths > 0 == ends.End.Thousandths > 0;
        var kerfs = Taken(ends.Start, saw, job) + Taken(ends.End, saw, job);
        var milled = Step(oneEdge ? start + end : Length.Max(start, end), job.Unit);
        return square with
        {
            X = square.X + kerfs + milled,
            Ends = ends,
            Angled = Cut(ends.Start, stock, saw, material) + Cut(ends.End, stock, saw, material),
        };
    }

    /// <summary>What an angled cut takes along the bar: its kerf ÷ cos, rounded up to a step; nothing where the end is square.</summary>
    public static Length Taken(Angle angle, Saw saw, Job job) => Step(Kerf(angle, saw.Kerf), job.Unit);

    /// <summary>One more cut through section ÷ cos, rounded.</summary>
    private static long Cut(Angle angle, Stock stock, Saw saw, Material material)
    {
        if (angle.Thousandths == 0)
        {
            return 0;
        }

        var section = (BigInteger)(CostRules.Section(stock) * 1_000_000_000_000m);
        var (up, down) = Cosine(angle);
        return CostRules.Rounded(CostRules.Sawing(saw, material, 1, (decimal)RootUp(section * section * down, up) / 1_000_000_000_000m));
    }

    private static Length Kerf(Angle angle, Length kerf)
    {
        var (up, down) = Cosine(angle);
        return Length.FromNanometres((long)RootUp((BigInteger)kerf.Nanometres * kerf.Nanometres * down, up)) is var along
            && angle.Thousandths != 0 ? along : Length.Zero;
    }

    private static Length Slope(Angle angle, Length width)
    {
        // Squares of the tangents: 30° 1/3, 45° 1, 60° 3.
        var (up, down) = Math.Abs(angle.Thousandths) switch
        {
            0 => (0, 1),
            30_000 => (1, 3),
            45_000 => (1, 1),
            60_000 => (3, 1),
            _ => throw new TooLargeException("Only ends of 0, 30, 45 and 60 degrees are enumerated."),
        };
        return Length.FromNanometres((long)RootUp((BigInteger)width.Nanometres * width.Nanometres * up, down));
    }

    // Squares of the cosines: 30° 3/4, 45° 1/2, 60° 1/4.
    private static (int Up, int Down) Cosine(Angle angle) => Math.Abs(angle.Thousandths) switch
    {
        0 => (1, 1),
        30_000 => (3, 4),
        45_000 => (1, 2),
        60_000 => (1, 4),
        _ => throw new TooLargeException("Only ends of 0, 30, 45 and 60 degrees are enumerated."),
    };

    private static Length ShortEdge(EndAngles ends, Part part)
    {
        var across = ends.AcrossThickness ? part.Thickness : part.Width;
        var (near, far) = (part.Length, part.Length);
        foreach (var angle in new[] { ends.Start, ends.End })
        {
            far -= angle.Thousandths > 0 ? Slope(angle, across) : Length.Zero;
            near -= angle.Thousandths > 0 ? Length.Zero : Slope(angle, across);
        }

        return Length.Min(near, far);
    }

    /// <summary>By how much the bar may be wider than the part where the cut runs across, before its sides are milled.</summary>
    private static Length Wider(EndAngles ends, Part part, Stock stock)
    {
        var (own, rest) = ends.AcrossThickness ? (part.Thickness, part.Width) : (part.Width, part.Thickness);
        var stays = ends.AcrossThickness ? part.MillFaces && stock.GoodFaces : part.MillSides;
        if (stays && (stock.Width == own || stock.Thickness == own))
        {
            return Length.Zero;
        }

        var wider = Length.Zero;
        foreach (var (across, up) in new[] { (stock.Width, stock.Thickness), (stock.Thickness, stock.Width) })
        {
            wider = across >= own && up >= rest ? Length.Max(wider, across - own) : wider;
        }

        return wider;
    }

    private static Length Step(Length length, LengthUnit unit)
    {
        var step = unit == LengthUnit.Inch ? 25_400L : 10_000L;
        return Length.FromNanometres((length.Nanometres + step - 1) / step * step);
    }

    /// <summary>Smallest whole n with n² · by ≥ number.</summary>
    private static BigInteger RootUp(BigInteger number, int by)
    {
        BigInteger low = 0, high = 1;
        while (high * high * by < number)
        {
            high *= 2;
        }

        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = middle * middle * by >= number ? (low, middle) : (middle + 1, high);
        }

        return low;
    }
}
