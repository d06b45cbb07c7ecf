using System.Globalization;
using Nest.Core.Solids.Exact;

namespace Nest.Data.Models;

/// <summary>What a DXF drawing holds of outlines, in the drawing's unit.</summary>
/// <param name="Closed">Closed polylines and circles.</param>
/// <param name="Loose">Lines, arcs and open polylines side by side: start with its bulge, end.</param>
/// <param name="UnitCode">$INSUNITS; 0: none.</param>
/// <param name="NotRead">Kinds of entities that might be outlines and are not read, with their number.</param>
internal sealed record DxfContent(
    List<OutlineCorner[]> Closed, List<(OutlineCorner From, OutlineCorner To)> Loose, int UnitCode, SortedDictionary<string, int> NotRead);

/// <summary>Reads the pairs of code and value of a text DXF: LINE, ARC, CIRCLE, LWPOLYLINE, POLYLINE.</summary>
internal sealed class DxfText : IDisposable
{
    private static readonly HashSet<string> Silent = new(StringComparer.Ordinal)
    {
        "TEXT", "MTEXT", "DIMENSION", "POINT", "HATCH", "LEADER", "MULTILEADER", "VIEWPORT", "ATTDEF", "ATTRIB", "TOLERANCE", "SOLID", "IMAGE", "WIPEOUT",
    };

    private readonly StreamReader reader;
    private readonly DxfContent content = new([], [], 0, new(StringComparer.Ordinal));
    private int line;
    private int corners;

    private DxfText(Stream stream) => reader = new(stream, System.Text.Encoding.Latin1, leaveOpen: true);

    public static DxfContent Read(Stream stream)
    {
        var head = new byte[22];
        var got = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (head.AsSpan(0, got).StartsWith("AutoCAD Binary DXF"u8))
        {
            throw new ModelFault("dxf-binary", "this is a binary DXF, which is not read", "save it as text DXF");
        }

        stream.Position = 0;
        using var text = new DxfText(stream);
        return text.Run();
    }

    public void Dispose() => reader.Dispose();

    private sealed class Entity(string kind)
    {
        public string Kind { get; } = kind;

        public List<(int Code, string Value, int Line)> Pairs { get; } = [];
    }

    private DxfContent Run()
    {
        var (section, unit, variable) = ("", 0, "");
        Entity? entity = null;
        Entity? polyline = null;
        var vertices = new List<Entity>();
        while (Pair() is var (code, value))
        {
            if (code == 0)
            {
                if (entity is not null && section == "ENTITIES")
                {
                    Finish(entity, ref polyline, vertices);
                }

                entity = null;
                switch (value)
                {
                    case "EOF":
                        return content with { UnitCode = unit };
                    case "ENDSEC":
                        section = "";
                        break;
                    default:
                        entity = new(value);
                        break;
                }
            }
            else if (code == 2 && entity is { Kind: "SECTION" })
            {
                section = value;
            }
            else if (section == "HEADER")
            {
                variable = code == 9 ? value : variable;
                unit = variable == "$INSUNITS" && code == 70 ? (int)Number(value, line) : unit;
            }
            else if (entity is not null && section == "ENTITIES" && code is (>= 10 and <= 59) or 62 or 66 or 67 or 70 or 210 or 220 or 230)
            {
                entity.Pairs.Add((code, value, line));
                if (++corners > 6 * ModelLimits.Entities)
                {
                    throw ModelFault.TooMuch("the drawing has too many entities");
                }
            }
        }

        throw ModelFault.Damaged("the drawing is cut off: EOF is missing", line);
    }

    private (int Code, string Value)? Pair()
    {
        var first = Line();
        if (first is null)
        {
            return null;
        }

        if (!int.TryParse(first, NumberStyles.AllowLeadingSign | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out var code))
        {
            throw ModelFault.Damaged($"'{ModelLimits.CleanName(first)}' where a group code must stand", line);
        }

        return (code, Line()?.Trim() ?? throw ModelFault.Damaged("the drawing is cut off", line));
    }

    private string? Line()
    {
        line++;
        return reader.ReadLine();
    }

    private static double Number(string value, int row) =>
        double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) && Math.Abs(number) <= 1e9
            ? number
            : throw ModelFault.Damaged($"'{ModelLimits.CleanName(value)}' is no number, or beyond all sizes", row);

    private static double Of(Entity entity, int code, double missing = 0) => entity.Pairs.FindIndex(pair => pair.Code == code) is >= 0 and var at
        ? Number(entity.Pairs[at].Value, entity.Pairs[at].Line)
        : missing;

    // Seen from below (extrusion 0, 0, −1) x runs the other way; other planes are no flat outline.
    private bool Mirrored(Entity entity)
    {
        var (x, y, z) = (Of(entity, 210), Of(entity, 220), Of(entity, 230, 1));
        if (Math.Abs(x) > 1e-9 || Math.Abs(y) > 1e-9)
        {
            throw new ModelFault("dxf-not-flat", $"a {entity.Kind} lies in a slanted plane", "draw outlines flat, in the XY plane", line);
        }

        return z < 0;
    }

    private void Finish(Entity entity, ref Entity? polyline, List<Entity> vertices)
    {
        if (Of(entity, 67) == 1 && entity.Kind is not ("VERTEX" or "SEQEND"))
        {
            // Paper space: frames and tables of the sheet.
            return;
        }

        switch (entity.Kind)
        {
            case "LINE":
                content.Loose.Add((new(Of(entity, 10), Of(entity, 20), 0), new(Of(entity, 11), Of(entity, 21), 0)));
                break;
            case "CIRCLE":
                var (x, y, r) = ((Mirrored(entity) ? -1 : 1) * Of(entity, 10), Of(entity, 20), Of(entity, 40));
                if (r > 0)
                {
                    content.Closed.Add([new(x + r, y, 1), new(x - r, y, 1)]);
                }

                break;
            case "ARC":
                Arc(entity);
                break;
            case "LWPOLYLINE":
                Add(Light(entity), ((int)Of(entity, 70) & 1) != 0, Mirrored(entity));
                break;
            case "POLYLINE":
                (polyline, _) = (entity, 0);
                vertices.Clear();
                break;
            case "VERTEX" when polyline is not null:
                vertices.Add(entity);
                break;
            case "SEQEND" when polyline is not null:
                Heavy(polyline, vertices);
                polyline = null;
                break;
            case "SECTION" or "SEQEND" or "VERTEX":
                break;
            default:
                if (!Silent.Contains(entity.Kind))
                {
                    var kind = ModelLimits.CleanName(entity.Kind);
                    content.NotRead[kind] = content.NotRead.GetValueOrDefault(kind) + 1;
                }

                break;
        }
    }

    private void Arc(Entity entity)
    {
        var (x, y, r) = (Of(entity, 10), Of(entity, 20), Of(entity, 40));
        var (from, to) = (Of(entity, 50) * Math.PI / 180, Of(entity, 51) * Math.PI / 180);
        if (!(r > 0))
        {
            return;
        }

        var sweep = to - from;
        sweep -= Math.Floor(sweep / (2 * Math.PI)) * 2 * Math.PI;
        if (sweep < 1e-12)
        {
            content.Closed.Add([new(x + r, y, 1), new(x - r, y, 1)]);
            return;
        }

        // Two halves: the bulge of an arc near a full turn has no end.
        var (start, middle, end) = (At(from), At(from + (sweep / 2)), At(from + sweep));
        var bulge = Math.Tan(sweep / 8);
        if (Mirrored(entity))
        {
            (start, middle, end, bulge) = ((-start.X, start.Y), (-middle.X, middle.Y), (-end.X, end.Y), -bulge);
        }

        content.Loose.Add((new(start.X, start.Y, bulge), new(middle.X, middle.Y, 0)));
        content.Loose.Add((new(middle.X, middle.Y, bulge), new(end.X, end.Y, 0)));

        (double X, double Y) At(double angle) => (x + (r * Math.Cos(angle)), y + (r * Math.Sin(angle)));
    }

    private static List<OutlineCorner> Light(Entity entity)
    {
        var list = new List<OutlineCorner>();
        foreach (var (code, value, row) in entity.Pairs)
        {
            switch (code)
            {
                case 10:
                    list.Add(new(Number(value, row), 0, 0));
                    break;
                case 20 when list.Count > 0:
                    list[^1] = list[^1] with { Y = Number(value, row) };
                    break;
                case 42 when list.Count > 0:
                    list[^1] = list[^1] with { Bulge = Number(value, row) };
                    break;
                default:
                    break;
            }
        }

        return list;
    }

    private void Heavy(Entity polyline, List<Entity> vertices)
    {
        var flags = (int)Of(polyline, 70);
        if ((flags & (16 | 64)) != 0)
        {
            content.NotRead["POLYLINE mesh"] = content.NotRead.GetValueOrDefault("POLYLINE mesh") + 1;
            return;
        }

        // Control points of a curve that was fitted (16) are not on it.
        Add([.. vertices.Where(vertex => ((int)Of(vertex, 70) & 16) == 0).Select(vertex => new OutlineCorner(Of(vertex, 10), Of(vertex, 20), Of(vertex, 42)))],
            (flags & 1) != 0, Mirrored(polyline));
    }

    private void Add(List<OutlineCorner> list, bool closed, bool mirrored)
    {
        if (mirrored)
        {
            list = [.. list.Select(corner => new OutlineCorner(-corner.X, corner.Y, -corner.Bulge))];
        }

        if (closed && list.Count > 1)
        {
            content.Closed.Add([.. list]);
            return;
        }

        for (var i = 0; i + 1 < list.Count; i++)
        {
            content.Loose.Add((list[i], list[i + 1]));
        }
    }
}
