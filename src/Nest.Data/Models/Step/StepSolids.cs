using Nest.Core.Solids;
using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Step;

/// <summary>Solids and shells of a STEP file as bodies.</summary>
internal sealed class StepSolids(StepGraph graph, double scale, double angleScale)
{
    private const int MostFaces = 50_000;

    private readonly StepShapes shapes = new(graph, scale, angleScale);
    private readonly Dictionary<int, ExactEdge> edges = [];
    private readonly Dictionary<int, ExactBody> bodies = [];
    private int faceCount;

    /// <summary>Whether the entity is a solid or a set of shells.</summary>
    public static bool IsBody(StepEntity entity) => entity.Name is "MANIFOLD_SOLID_BREP" or "BREP_WITH_VOIDS" or "FACETED_BREP" or "SHELL_BASED_SURFACE_MODEL";

    public ExactBody Of(StepEntity entity)
    {
        if (!bodies.TryGetValue(entity.Number, out var body))
        {
            bodies[entity.Number] = body = Make(entity);
        }

        return body;
    }

    private ExactBody Make(StepEntity entity)
    {
        var shells = entity.Name switch
        {
            "SHELL_BASED_SURFACE_MODEL" => StepGraph.List(StepGraph.Value(entity, 1)).Select(graph.Get).ToList(),
            "BREP_WITH_VOIDS" => [graph.Get(StepGraph.Value(entity, 1)), .. StepGraph.List(StepGraph.Value(entity, 2)).Select(graph.Get)],
            _ => [graph.Get(StepGraph.Value(entity, 1))],
        };
        var (faces, apexes, uses, closed) = (new List<ExactFace>(), new List<Vec3>(), new Dictionary<ExactEdge, (int Forward, int Back)>(), true);
        foreach (var named in shells)
        {
            var (shell, outward) = (named, true);
            if (named.Name == "ORIENTED_CLOSED_SHELL")
            {
                (shell, outward) = (graph.Get(StepGraph.Value(named, 2)), StepGraph.IsTrue(StepGraph.Value(named, 3)));
            }

            closed &= shell.Name == "CLOSED_SHELL";
            if (shell.Name is not ("CLOSED_SHELL" or "OPEN_SHELL"))
            {
                throw ModelFault.Damaged($"#{shell.Number} is no shell");
            }

            foreach (var face in StepGraph.List(StepGraph.Value(shell, 1)))
            {
                faces.Add(Face(graph.Get(face), outward, apexes, uses));
                if (++faceCount > MostFaces)
                {
                    throw ModelFault.TooMuch($"the file has more than {MostFaces} faces");
                }
            }
        }

        if (faces.Count == 0 || (uses.Count == 0 && faces.TrueForAll(face => face.Surface is not TorusSurface)))
        {
            throw ModelFault.Damaged($"#{entity.Number} has no face with edges");
        }

        return new(faces, apexes, closed && uses.Values.All(use => use is (1, 1)), 1e-6);
    }

    private ExactFace Face(StepEntity entity, bool outward, List<Vec3> apexes, Dictionary<ExactEdge, (int Forward, int Back)> uses)
    {
        if (entity.Name is not ("ADVANCED_FACE" or "FACE_SURFACE"))
        {
            throw ModelFault.Damaged($"#{entity.Number} is a {ModelLimits.CleanName(entity.Name)}, not a face");
        }

        var surface = shapes.SurfaceOf(StepGraph.Value(entity, 2));
        var loops = new List<IReadOnlyList<EdgeUse>>();
        foreach (var bound in StepGraph.List(StepGraph.Value(entity, 1)).Select(graph.Get))
        {
            var loop = graph.Get(StepGraph.Value(bound, 1));
            var along = StepGraph.IsTrue(StepGraph.Value(bound, 2)) == outward;
            switch (loop.Name)
            {
                case "VERTEX_LOOP":
                    apexes.Add(Vertex(graph.Get(StepGraph.Value(loop, 1))));
                    break;
                case "EDGE_LOOP":
                    var uses_ = StepGraph.List(StepGraph.Value(loop, 1)).Select(value => Use(graph.Get(value))).ToList();
                    if (!along)
                    {
                        uses_.Reverse();
                        uses_ = [.. uses_.Select(use => use with { Forward = !use.Forward })];
                    }

                    foreach (var (edge, forward) in uses_)
                    {
                        var (ahead, back) = uses.GetValueOrDefault(edge);
                        uses[edge] = forward ? (ahead + 1, back) : (ahead, back + 1);
                    }

                    loops.Add(uses_);
                    break;
                default:
                    throw ModelFault.Damaged($"#{loop.Number} is a {ModelLimits.CleanName(loop.Name)}, not a loop of edges");
            }
        }

        var face = new ExactFace(surface, StepGraph.IsTrue(StepGraph.Value(entity, 3)) == outward, loops);
        return face.OffSurface() <= 0.05
            ? face
            : throw ModelFault.Damaged($"the edges of face #{entity.Number} do not lie on its surface");
    }

    private EdgeUse Use(StepEntity oriented)
    {
        if (oriented.Name != "ORIENTED_EDGE")
        {
            throw ModelFault.Damaged($"#{oriented.Number} is no edge of a loop");
        }

        var entity = graph.Get(StepGraph.Value(oriented, 3));
        if (!edges.TryGetValue(entity.Number, out var edge))
        {
            edges[entity.Number] = edge = Edge(entity);
        }

        return new(edge, StepGraph.IsTrue(StepGraph.Value(oriented, 4)));
    }

    private ExactEdge Edge(StepEntity entity)
    {
        if (entity.Name != "EDGE_CURVE")
        {
            throw ModelFault.Damaged($"#{entity.Number} is no edge");
        }

        var (start, end) = (graph.Get(StepGraph.Value(entity, 1)), graph.Get(StepGraph.Value(entity, 2)));
        var (a, b) = (Vertex(start), Vertex(end));
        var curve = shapes.CurveOf(StepGraph.Value(entity, 3));
        var rising = StepGraph.IsTrue(StepGraph.Value(entity, 4));
        var (from, to) = (curve.Find(a), curve.Find(b));
        if (curve is SplineCurve spline)
        {
            // The ends of a curve that closes are one point: which of both is meant follows from the direction.
            (from, to) = Ends(spline, from, to, (a - b).Norm < 1e-9, rising);
        }
        else if (curve.Period is { } period)
        {
            to = Beyond(from, to, period, rising, start.Number == end.Number || (a - b).Norm < 1e-9);
        }

        var edge = new ExactEdge(curve, from, to);
        return (edge.Points[0] - a).Norm <= 0.01 && (edge.Points[^1] - b).Norm <= 0.01
            ? edge
            : throw ModelFault.Damaged($"the ends of edge #{entity.Number} do not lie on its curve");
    }

    private static (double From, double To) Ends(SplineCurve spline, double from, double to, bool closes, bool rising)
    {
        if (spline.Period is not { } period)
        {
            return (from, to);
        }

        var slack = period * 1e-9;
        if (closes)
        {
            return rising ? (from, from + period) : (from, from - period);
        }

        if (Math.Abs(from - spline.From) < slack || Math.Abs(from - spline.To) < slack)
        {
            from = rising ? spline.From : spline.To;
        }

        if (Math.Abs(to - spline.From) < slack || Math.Abs(to - spline.To) < slack)
        {
            to = rising ? spline.To : spline.From;
        }

        return (from, Beyond(from, to, period, rising, false));
    }

    // The end lies ahead of the start in the direction of the edge, at most one turn.
    private static double Beyond(double from, double to, double period, bool rising, bool closes)
    {
        if (closes)
        {
            return rising ? from + period : from - period;
        }

        var ahead = rising ? to - from : from - to;
        ahead -= Math.Floor(ahead / period) * period;
        return rising ? from + ahead : from - ahead;
    }

    private Vec3 Vertex(StepEntity entity) => entity.Name == "VERTEX_POINT"
        ? graph.Point(StepGraph.Value(entity, 1), scale)
        : throw ModelFault.Damaged($"#{entity.Number} is no vertex");
}
