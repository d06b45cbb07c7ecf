namespace Nest.Core.Solids.Exact;

/// <summary>B-spline surface, rational or not, as patches in Bernstein form.</summary>
public sealed class SplineSurface : Surface
{
    private readonly Weighted[][,] patches;
    private readonly List<double> endsU;
    private readonly List<double> endsV;
    private readonly (double U, double V, Vec3 At)[] samples;

    /// <param name="points">By u, then v.</param>
    /// <param name="knotsU">With multiplicity.</param>
    public SplineSurface(Weighted[,] points, double[] knotsU, double[] knotsV, int degreeU, int degreeV)
    {
        var (countU, countV) = (points.GetLength(0), points.GetLength(1));
        // Each column along u, then each row of what came of it along v.
        var columns = Enumerable.Range(0, countV).Select(v => Bezier.Split([.. Enumerable.Range(0, countU).Select(u => points[u, v])], knotsU, degreeU)).ToArray();
        endsU = columns[0].Ends;
        var pieces = endsU.Count - 1;
        var list = new List<Weighted[,]>();
        endsV = [];
        for (var i = 0; i < pieces; i++)
        {
            var rows = Enumerable.Range(0, degreeU + 1).Select(k => Bezier.Split([.. columns.Select(column => column.Pieces[i][k])], knotsV, degreeV)).ToArray();
            endsV = rows[0].Ends;
            for (var j = 0; j < endsV.Count - 1; j++)
            {
                var patch = new Weighted[degreeU + 1, degreeV + 1];
                for (var a = 0; a <= degreeU; a++)
                {
                    for (var b = 0; b <= degreeV; b++)
                    {
                        patch[a, b] = rows[a].Pieces[j][b];
                    }
                }

                list.Add(patch);
            }
        }

        patches = [.. list];
        samples = [.. Grid()];
    }

    public override bool Bulges => true;

    /// <summary>Patches in Bernstein form with their range of parameters.</summary>
    public IEnumerable<(Weighted[,] Control, double U0, double U1, double V0, double V1)> Patches()
    {
        for (var i = 0; i < endsU.Count - 1; i++)
        {
            for (var j = 0; j < endsV.Count - 1; j++)
            {
                yield return (patches[(i * (endsV.Count - 1)) + j], endsU[i], endsU[i + 1], endsV[j], endsV[j + 1]);
            }
        }
    }

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v)
    {
        var (i, su, wu) = Place(endsU, u);
        var (j, sv, wv) = Place(endsV, v);
        var patch = patches[(i * (endsV.Count - 1)) + j];
        var (rows, columns) = (patch.GetLength(0), patch.GetLength(1));
        Span<Weighted> line = stackalloc Weighted[columns];
        Span<Weighted> values = stackalloc Weighted[rows];
        Span<Weighted> slopes = stackalloc Weighted[rows];
        for (var a = 0; a < rows; a++)
        {
            for (var b = 0; b < columns; b++)
            {
                line[b] = patch[a, b];
            }

            (values[a], slopes[a]) = Bezier.At(line, sv);
        }

        var (value, slopeU) = Bezier.At(values, su);
        var (slopeV, _) = Bezier.At(slopes, su);
        return (value.Place, Bezier.Divided(value, slopeU * (1 / wu)).Slope, Bezier.Divided(value, slopeV * (1 / wv)).Slope);
    }

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint)
    {
        // Near the hint first: along an edge the next point is close.
        var from = Newton(point, (Math.Clamp(hint.U, endsU[0], endsU[^1]), Math.Clamp(hint.V, endsV[0], endsV[^1])));
        if ((At(from.U, from.V).At - point).Norm <= 1e-6)
        {
            return from;
        }

        var nearest = samples.MinBy(sample => (sample.At - point).Norm);
        var other = Newton(point, (nearest.U, nearest.V));
        return (At(other.U, other.V).At - point).Norm < (At(from.U, from.V).At - point).Norm ? other : from;
    }

    public override IEnumerable<double> BreaksU(double from, double to)
    {
        var (low, high) = (Math.Min(from, to), Math.Max(from, to));
        var inside = endsU.Where(u => u > low && u < high);
        return from <= to ? inside : inside.Reverse();
    }

    private (double U, double V) Newton(Vec3 point, (double U, double V) at)
    {
        for (var i = 0; i < 40; i++)
        {
            var (place, du, dv) = At(at.U, at.V);
            var away = point - place;
            var (a, b, c, d, e) = (Vec3.Dot(du, du), Vec3.Dot(du, dv), Vec3.Dot(dv, dv), Vec3.Dot(away, du), Vec3.Dot(away, dv));
            var det = (a * c) - (b * b);
            if (!(det > 1e-30))
            {
                break;
            }

            var next = (U: Math.Clamp(at.U + (((d * c) - (e * b)) / det), endsU[0], endsU[^1]), V: Math.Clamp(at.V + (((e * a) - (d * b)) / det), endsV[0], endsV[^1]));
            var moved = Math.Abs(next.U - at.U) + Math.Abs(next.V - at.V);
            at = next;
            if (moved < 1e-14 * (endsU[^1] - endsU[0] + endsV[^1] - endsV[0]))
            {
                break;
            }
        }

        return at;
    }

    private IEnumerable<(double U, double V, Vec3 At)> Grid()
    {
        var (stepsU, stepsV) = (Steps(endsU.Count - 1), Steps(endsV.Count - 1));
        for (var i = 0; i <= stepsU; i++)
        {
            for (var j = 0; j <= stepsV; j++)
            {
                var (u, v) = (endsU[0] + ((endsU[^1] - endsU[0]) * i / stepsU), endsV[0] + ((endsV[^1] - endsV[0]) * j / stepsV));
                yield return (u, v, At(u, v).At);
            }
        }

        static int Steps(int pieces) => Math.Clamp(pieces * 4, 12, 100);
    }

    private static (int Piece, double Share, double Width) Place(List<double> ends, double t)
    {
        var at = ends.BinarySearch(t);
        var piece = Math.Clamp(at >= 0 ? at : ~at - 1, 0, ends.Count - 2);
        var width = ends[piece + 1] - ends[piece];
        return (piece, (t - ends[piece]) / width, width);
    }
}
