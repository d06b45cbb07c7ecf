namespace Nest.Core.Solids;

/// <summary>The boxes of a body.</summary>
/// <param name="AsGiven">Along the model's own axes.</param>
/// <param name="Smallest">The smallest that was found over all turns, longest side first.</param>
/// <param name="SmallestAtLeast">No box that holds the body, its points taken to the nearest nanometre, has less volume (mm³).</param>
/// <param name="OnFlat">The smallest with a flat of the body down (third axis), longer side first; null: it has no flat to lie on.</param>
/// <param name="Round">The body's outline along an axis is a circle; null: it is not.</param>
public sealed record BodyBoxes(SolidBox AsGiven, SolidBox Smallest, double SmallestAtLeast, SolidBox? OnFlat, RoundSize? Round)
{
    /// <summary>By how much the smallest box may be above the least volume possible.</summary>
    public double Gap => SmallestAtLeast > 0 ? Math.Max(0, (Smallest.Volume - SmallestAtLeast) / SmallestAtLeast) : 1;
}

/// <summary>Measures the boxes of a body.</summary>
/// <remarks>
/// Directions come from the hull of points of the body (<see cref="SmallestBox"/>, O'Rourke 1985), from its flats and turned faces with the
/// smallest rectangle about each (<see cref="Calipers"/>), and of a curved body the best is turned further in small steps. The sides are then always
/// the reach of the whole body, so a box surely holds it. The hull's own least box is a lower bound: hull points are points of the
/// body. On a mesh whose corners are all in the hull, box and bound agree to rounding; where the hull was cut short, the search came to its
/// limit of work, or the body is curved, <see cref="BodyBoxes.Gap"/> says what is open.
/// </remarks>
public static class BoxSearch
{
    /// <summary>Directions of flats and axes that are tried at most.</summary>
    private const int MostDirections = 60;

    /// <summary>Points of the body times rounds of six turns, at most.</summary>
    private const int MostTurned = 2_000_000;

    /// <summary>Some two seconds.</summary>
    public const long MostWork = 2_000_000;

    /// <summary>A flat to lie on covers at least this share of the box that stands on it.</summary>
    private const double LeastFlat = 0.02;

    /// <summary>The boxes; null where the body has no thickness.</summary>
    /// <param name="work">Turns of the hull that the search looks at, at most.</param>
    public static BodyBoxes? Of(Body body, long work = MostWork)
    {
        var given = body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1));
        if (body.Hull is not { } hull)
        {
            return null;
        }

        var tried = Distinct(body.Directions.Concat([given.X, given.Y, given.Z])).Select(direction => About(hull, direction)).Prepend((X: new Vec3(1, 0, 0), Y: new Vec3(0, 1, 0))).ToList();
        var (x, y, least, _) = Least(hull, tried.MinBy(frame => HullVolume(hull, frame.X, frame.Y)), body.Precision, work);
        var frames = new List<(Vec3 X, Vec3 Y)>([tried[0], (x, y), .. tried.Skip(1)]);
        // The first frames come first in a tie: nobody wants a box that is turned for nothing.
        var trial = frames.MinBy(frame => HullVolume(hull, frame.X, frame.Y) * (frame == frames[0] ? 1 - 1e-9 : 1));
        var best = Frame(body, trial.X, trial.Y);
        best = body is MeshBody ? best : Refined(body, best);
        best = given.Volume <= best.Volume * (1 + 1e-9) ? given : best;
        return new(given, best.Sorted(), Math.Min(least * (1 - 1e-9), best.Volume), OnFlat(body, hull), RoundSize.Of(body, hull, Distinct(body.Directions.Concat([given.X, given.Y, given.Z, x, y, Vec3.Cross(x, y)]))));
    }

    /// <summary>Axes of a small box of the hull, a volume below which there is none, and the work that took.</summary>
    /// <param name="start">A box that is known.</param>
    /// <param name="work">At most, for each hull; where that does not do the corners are thinned out, until it does. What is smallest for some of the corners
    /// bounds the box for all of them, only not so closely.</param>
    internal static (Vec3 X, Vec3 Y, double Volume, long Work) Least(ConvexHull hull, (Vec3 X, Vec3 Y) start, double precision, long work)
    {
        var (best, spent) = (start, 0L);
        for (var looked = hull; ; looked = ConvexHull.Of(looked.Corners, precision, looked.Corners.Count / 2)!)
        {
            var found = SmallestBox.Of(looked, best, work);
            spent += found.Work;
            best = HullVolume(hull, found.X, found.Y) < HullVolume(hull, best.X, best.Y) ? (found.X, found.Y) : best;
            if (found.Done)
            {
                return (best.X, best.Y, found.Volume, spent);
            }
        }
    }

    /// <summary>The smallest box with its third axis along a direction, longer side first; null where the body has no thickness.</summary>
    public static SolidBox? Standing(Body body, Vec3 up)
    {
        if (body.Hull is not { } hull)
        {
            return null;
        }

        var (x, y) = About(hull, up);
        var given = body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1));
        var box = body.BoxAlong(x, y, up);
        return (up == new Vec3(0, 0, 1) && given.Volume <= box.Volume * (1 + 1e-6) ? given : box).Lying();
    }

    private static SolidBox? OnFlat(Body body, ConvexHull hull)
    {
        SolidBox? best = null;
        foreach (var flat in body.Flats.Where(flat => flat.Area > 0).OrderByDescending(flat => flat.Area).Take(MostDirections))
        {
            var reach = hull.Corners.Max(corner => Vec3.Dot(corner, flat.Normal));
            var (x, y) = About(hull, flat.Normal);
            if (best is not null && HullVolume(hull, flat.Normal, x) > best.Volume * (1 + Alike))
            {
                continue;
            }

            var box = body.BoxAlong(x, y, Vec3.Cross(x, y));
            if (flat.Area >= LeastFlat * box.Size.X * box.Size.Y && reach > 0 && (best is null || Better(box, best)))
            {
                best = box;
            }
        }

        return best?.Lying();

        // Of boxes that are alike the lowest: that is how a part lies flat.
        static bool Better(SolidBox box, SolidBox than) => box.Volume < than.Volume * (1 - Alike)
            || (box.Volume <= than.Volume * (1 + Alike) && box.Size.Z < than.Size.Z * (1 - 1e-6));
    }

    /// <summary>Boxes whose volumes differ by less are alike: single precision must not decide which flat is down.</summary>
    private const double Alike = 1e-4;

    // Two axes across the direction, along the smallest rectangle of the hull seen in it.
    private static (Vec3 X, Vec3 Y) About(ConvexHull hull, Vec3 direction)
    {
        var u = direction.AnyAcross();
        var v = Vec3.Cross(direction, u);
        var (cos, sin, _) = Calipers.Smallest(hull.Corners.Select(corner => (Vec3.Dot(corner, u), Vec3.Dot(corner, v))));
        return ((u * cos) + (v * sin), (v * cos) - (u * sin));
    }

    private static double HullVolume(ConvexHull hull, Vec3 x, Vec3 y)
    {
        var z = Vec3.Cross(x, y);
        return Width(x) * Width(y) * Width(z);

        double Width(Vec3 axis)
        {
            var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
            foreach (var corner in hull.Corners)
            {
                var at = Vec3.Dot(corner, axis);
                (low, high) = (Math.Min(low, at), Math.Max(high, at));
            }

            return high - low;
        }
    }

    private static SolidBox Frame(Body body, Vec3 x, Vec3 y) => body.BoxAlong(x, y, Vec3.Cross(x, y));

    // Small turns about the box's axes, ever smaller, while they help: the hull of a curved body knows only points of it.
    private static SolidBox Refined(Body body, SolidBox best)
    {
        var angle = 0.02;
        // A body of very many faces is turned less often; what is left open is in the gap.
        var left = Math.Max(10, MostTurned / (1 + body.Points.Count));
        for (var i = 0; i < 28 && left > 0; i++, angle /= 2)
        {
            for (var moved = true; moved && left > 0; left--)
            {
                moved = false;
                for (var axis = 0; axis < 6; axis++)
                {
                    var (cos, sin) = (Math.Cos(angle), Math.Sin(axis % 2 == 0 ? angle : -angle));
                    var turned = (axis / 2) switch
                    {
                        0 => Frame(body, best.X, (best.Y * cos) + (best.Z * sin)),
                        1 => Frame(body, (best.X * cos) + (best.Z * sin), best.Y),
                        _ => Frame(body, (best.X * cos) + (best.Y * sin), (best.Y * cos) - (best.X * sin)),
                    };
                    if (turned.Volume < best.Volume * (1 - 1e-12))
                    {
                        (best, moved) = (turned, true);
                    }
                }
            }
        }

        return best;
    }

    private static List<Vec3> Distinct(IEnumerable<Vec3> directions)
    {
        var distinct = new List<Vec3>();
        foreach (var direction in directions)
        {
            if (distinct.Count < MostDirections && direction.Norm > 0.5
                && distinct.TrueForAll(known => Math.Abs(Vec3.Dot(known, direction)) < 1 - 1e-13))
            {
                distinct.Add(direction);
            }
        }

        return distinct;
    }
}
