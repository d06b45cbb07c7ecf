using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>Which closed outline is a part and which a hole: by how many others lie around it, even or odd.</summary>
/// <remarks>Whether one lies within another is asked for a few of its points, with arcs as short straight pieces. Outlines that cross each
/// other are refused. Cost: pairs whose boxes lie within each other × sides.</remarks>
internal static class OutlineNesting
{
    private const int Asked = 8;

    public static List<(Outline Outer, List<Outline> Holes)> Group(IReadOnlyList<Outline> outlines)
    {
        var lines = outlines.Select(Points).ToList();
        var boxes = lines.Select(line => (X0: line.Min(p => p.X), Y0: line.Min(p => p.Y), X1: line.Max(p => p.X), Y1: line.Max(p => p.Y))).ToList();
        var around = new List<int>[outlines.Count];
        for (var i = 0; i < outlines.Count; i++)
        {
            around[i] = [];
            for (var j = 0; j < outlines.Count; j++)
            {
                var (a, b) = (boxes[i], boxes[j]);
                if (i != j && a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1 && Math.Abs(outlines[j].Area) > Math.Abs(outlines[i].Area) && Within(lines[i], lines[j]))
                {
                    around[i].Add(j);
                }
            }
        }

        var groups = new List<(Outline Outer, List<Outline> Holes)>();
        var places = new Dictionary<int, int>();
        for (var i = 0; i < outlines.Count; i++)
        {
            if (around[i].Count % 2 == 0)
            {
                places[i] = groups.Count;
                groups.Add((outlines[i], []));
            }
        }

        for (var i = 0; i < outlines.Count; i++)
        {
            if (around[i].Count % 2 == 1)
            {
                // The nearest around it has just one less around itself.
                var parent = around[i].Find(j => around[j].Count == around[i].Count - 1);
                groups[places[parent]].Holes.Add(outlines[i]);
            }
        }

        return groups;
    }

    private static bool Within((double X, double Y)[] inner, (double X, double Y)[] outer)
    {
        var inside = 0;
        for (var k = 0; k < Asked; k++)
        {
            var (x, y) = inner[k * inner.Length / Asked];
            var odd = false;
            for (var i = 0; i < outer.Length; i++)
            {
                var (a, b) = (outer[i], outer[(i + 1) % outer.Length]);
                odd ^= (a.Y > y) != (b.Y > y) && x < a.X + ((y - a.Y) * (b.X - a.X) / (b.Y - a.Y));
            }

            inside += odd ? 1 : 0;
        }

        return inside is 0 or Asked
            ? inside == Asked
            : throw new ModelFault("dxf-crossing", System.FormattableString.Invariant($"two outlines cross or touch near {inner[0].X:0.###}, {inner[0].Y:0.###} mm"), "draw holes inside of their part, and parts apart");
    }

    private static (double X, double Y)[] Points(Outline outline)
    {
        var points = new List<(double X, double Y)>();
        foreach (var (from, to) in outline.Sides())
        {
            points.Add((from.X, from.Y));
            if (from.Bulge == 0)
            {
                continue;
            }

            // Points of the arc by its own angle, seen from the chord.
            var steps = 2 + (int)(Math.Atan(Math.Abs(from.Bulge)) * 20);
            var (dx, dy, angle) = (to.X - from.X, to.Y - from.Y, 4 * Math.Atan(from.Bulge));
            var away = (1 - (from.Bulge * from.Bulge)) / (4 * from.Bulge);
            var (cx, cy) = (((from.X + to.X) / 2) - (dy * away), ((from.Y + to.Y) / 2) + (dx * away));
            for (var i = 1; i < steps; i++)
            {
                var (sin, cos) = Math.SinCos(angle * i / steps);
                points.Add((cx + ((from.X - cx) * cos) - ((from.Y - cy) * sin), cy + ((from.X - cx) * sin) + ((from.Y - cy) * cos)));
            }
        }

        return [.. points];
    }
}
