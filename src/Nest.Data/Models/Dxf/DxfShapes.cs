using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>Lays out a drawing's entities and its blocks as straight sides and arcs: LINE, ARC, CIRCLE, ELLIPSE, SPLINE, LWPOLYLINE, POLYLINE, INSERT.</summary>
internal sealed class DxfShapes
{
    private static readonly HashSet<string> Silent = new(StringComparer.Ordinal)
    {
        "TEXT", "MTEXT", "DIMENSION", "POINT", "HATCH", "LEADER", "MULTILEADER", "VIEWPORT", "ATTDEF", "ATTRIB", "TOLERANCE", "SOLID", "IMAGE", "WIPEOUT",
    };

    private readonly DxfDrawing drawing;
    private readonly double near;
    private readonly DxfContent content = new([], [], new(StringComparer.Ordinal));
    private readonly DxfSides sides;
    private int visited;

    private DxfShapes(DxfDrawing drawing, double near)
    {
        (this.drawing, this.near) = (drawing, near);
        sides = new(content, near);
    }

    /// <param name="near">How far an ellipse or a spline may be from the arcs that are taken for it, in the drawing's unit.</param>
    public static DxfContent Of(DxfDrawing drawing, double near)
    {
        var shapes = new DxfShapes(drawing, near);
        shapes.Add(drawing.Entities, DxfPlace.None, 0);
        return shapes.content;
    }

    private void Add(List<DxfEntity> entities, DxfPlace place, int depth)
    {
        foreach (var entity in entities)
        {
            if (++visited > ModelLimits.Entities)
            {
                throw ModelFault.TooMuch("the drawing's blocks are put in too often");
            }

            // Paper space: frames and tables of the sheet.
            if (entity.Of(67) != 1)
            {
                Add(entity, place, depth);
            }
        }
    }

    private void Add(DxfEntity entity, DxfPlace place, int depth)
    {
        switch (entity.Kind)
        {
            case "LINE":
                sides.Add([new(entity.Of(10), entity.Of(20), 0), new(entity.Of(11), entity.Of(21), 0)], false, place);
                break;
            case "CIRCLE" or "ARC":
                Arc(entity, place.After(Plane(entity)));
                break;
            case "ELLIPSE":
                Ellipse(entity, place);
                break;
            case "SPLINE":
                Spline(entity, place);
                break;
            case "LWPOLYLINE":
                sides.Add(Light(entity), (entity.Flags & 1) != 0, place.After(Plane(entity)));
                break;
            case "POLYLINE":
                Heavy(entity, place.After(Plane(entity)));
                break;
            case "INSERT":
                Insert(entity, place, depth);
                break;
            default:
                if (!Silent.Contains(entity.Kind))
                {
                    NotRead(entity.Kind);
                }

                break;
        }
    }

    private void NotRead(string what)
    {
        var kind = ModelLimits.CleanName(what);
        content.NotRead[kind] = content.NotRead.GetValueOrDefault(kind) + 1;
    }

    // An entity in a plane turned over has its own x, which runs the other way; other planes are no flat outline.
    private static DxfPlace Plane(DxfEntity entity)
    {
        if (Math.Abs(entity.Of(210)) > 1e-9 || Math.Abs(entity.Of(220)) > 1e-9)
        {
            throw NotFlat(entity);
        }

        return entity.Of(230, 1) < 0 ? DxfPlace.FromBelow : DxfPlace.None;
    }

    internal static ModelFault NotFlat(DxfEntity entity) => new("dxf-not-flat", $"a {entity.Kind} lies in a slanted plane", "draw outlines flat, in the XY plane", entity.Line);

    /// <summary>The block that the entity names, as often as it says.</summary>
    private void Insert(DxfEntity entity, DxfPlace place, int depth)
    {
        var name = entity.Text(2);
        if (!drawing.Blocks.TryGetValue(name, out var block) || (block.Base.Flags & 4) != 0)
        {
            NotRead(block is null ? "INSERT without its block" : "INSERT of another file");
            return;
        }

        if (depth >= ModelLimits.Depth)
        {
            throw ModelFault.Damaged($"the block '{ModelLimits.CleanName(name)}' lies within itself, or blocks lie within each other more than {ModelLimits.Depth} deep", entity.Line);
        }

        var (columns, rows) = (Math.Max(1, entity.Of(70, 1)), Math.Max(1, entity.Of(71, 1)));
        if (columns * rows > ModelLimits.Entities)
        {
            throw ModelFault.TooMuch("the drawing's blocks are put in too often");
        }

        var frame = place.After(Plane(entity)).After(DxfPlace.Shifted(entity.Of(10), entity.Of(20))).After(DxfPlace.Turned(entity.Of(50)));
        var inner = DxfPlace.Scaled(entity.Of(41, 1), entity.Of(42, 1)).After(DxfPlace.Shifted(-block.Base.Of(10), -block.Base.Of(20)));
        for (var row = 0; row < rows; row++)
        {
            for (var column = 0; column < columns; column++)
            {
                visited++; // an empty block counts too
                Add(block.Entities, frame.After(DxfPlace.Shifted(column * entity.Of(44), row * entity.Of(45))).After(inner), depth + 1);
            }
        }
    }

    private void Arc(DxfEntity entity, DxfPlace place)
    {
        var (x, y, r) = (entity.Of(10), entity.Of(20), entity.Of(40));
        if (!(r > 0))
        {
            return;
        }

        var (from, sweep) = (entity.Of(50) * Math.PI / 180, 2 * Math.PI);
        if (entity.Kind == "ARC")
        {
            sweep = (entity.Of(51) * Math.PI / 180) - from;
            sweep -= Math.Floor(sweep / (2 * Math.PI)) * 2 * Math.PI;
        }

        if (entity.Kind == "CIRCLE" || sweep < 1e-12)
        {
            sides.Add([new(x + r, y, 1), new(x - r, y, 1)], true, place);
            return;
        }

        // Two halves: the bulge of an arc near a full turn has no end.
        var bulge = Math.Tan(sweep / 8);
        sides.Add([At(from, bulge), At(from + (sweep / 2), bulge), At(from + sweep, 0)], false, place);

        OutlineCorner At(double angle, double behind) => new(x + (r * Math.Cos(angle)), y + (r * Math.Sin(angle)), behind);
    }

    /// <summary>Centre, end of the long axis, ratio of the short one, and from which to which of its angles.</summary>
    private void Ellipse(DxfEntity entity, DxfPlace place)
    {
        var under = Plane(entity) == DxfPlace.FromBelow ? -1 : 1;
        var (x, y, ax, ay, ratio) = (entity.Of(10), entity.Of(20), entity.Of(11), entity.Of(21), entity.Of(40));
        var (bx, by) = (-ay * ratio * under, ax * ratio * under);
        var (from, to) = (entity.Of(41), entity.Of(42, 2 * Math.PI));
        var sweep = to - from;
        sweep -= Math.Floor(sweep / (2 * Math.PI)) * 2 * Math.PI;
        var closed = sweep < 1e-9 || sweep > (2 * Math.PI) - 1e-9;
        sweep = closed ? 2 * Math.PI : sweep;
        if (!(Math.Abs(ratio) > 0) || (ax == 0 && ay == 0))
        {
            return;
        }

        sides.Curve(t => (x + (ax * Math.Cos(t)) + (bx * Math.Sin(t)), y + (ay * Math.Cos(t)) + (by * Math.Sin(t))), [.. Enumerable.Range(0, 9).Select(i => from + (sweep * i / 8))], closed, place);
    }

    private void Spline(DxfEntity entity, DxfPlace place)
    {
        if (DxfSpline.Of(entity) is not { } spline)
        {
            NotRead("SPLINE without points");
            return;
        }

        content.Assumed += spline.Assumed ? 1 : 0;
        var ((x0, y0), (x1, y1)) = (spline.At(spline.Stops[0]), spline.At(spline.Stops[^1]));
        sides.Curve(spline.At, spline.Stops, Math.Sqrt(((x1 - x0) * (x1 - x0)) + ((y1 - y0) * (y1 - y0))) <= near, place);
    }

    private static List<OutlineCorner> Light(DxfEntity entity)
    {
        var list = new List<OutlineCorner>();
        foreach (var (code, value, row) in entity.Pairs)
        {
            switch (code)
            {
                case 10:
                    list.Add(new(DxfText.Number(value, row), 0, 0));
                    break;
                case 20 when list.Count > 0:
                    list[^1] = list[^1] with { Y = DxfText.Number(value, row) };
                    break;
                case 42 when list.Count > 0:
                    list[^1] = list[^1] with { Bulge = DxfText.Number(value, row) };
                    break;
                default:
                    break;
            }
        }

        return list;
    }

    private void Heavy(DxfEntity polyline, DxfPlace place)
    {
        if ((polyline.Flags & (16 | 64)) != 0)
        {
            NotRead("POLYLINE mesh");
            return;
        }

        // Control points of a curve that was fitted (16) are not on it.
        sides.Add([.. polyline.Vertices.Where(vertex => (vertex.Flags & 16) == 0).Select(vertex => new OutlineCorner(vertex.Of(10), vertex.Of(20), vertex.Of(42)))], (polyline.Flags & 1) != 0, place);
    }
}
