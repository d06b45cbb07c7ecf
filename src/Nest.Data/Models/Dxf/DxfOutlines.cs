using System.Globalization;
using Nest.Core.Solids;
using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>Flat parts of a DXF drawing: closed outlines, their holes by nesting, raised by a given thickness.</summary>
internal static class DxfOutlines
{
    private const int MostOutlines = 2_000;
    private const int MostSides = 100_000;

    /// <summary>Ends of lines nearer than this are one corner, mm.</summary>
    private const double Near = 0.005;

    /// <summary>How far arcs may be beside the ellipses and splines that they stand for, mm: a hundredth of what sizes are rounded up to.</summary>
    private const double Followed = 1e-4;

    public static (ModelUnit Unit, string Told, List<ModelPart> Parts) Read(
        Stream stream, string path, string name, ModelUnit? given, double? thickness, FindingList findings)
    {
        var drawing = DxfText.Read(stream);
        var inFile = UnitOf(drawing.UnitCode);
        var unit = given ?? inFile ?? throw new ModelFault("unit-open", "the drawing names no unit ($INSUNITS)", $"say it with --model-unit: {ModelUnits.Words}");
        if (thickness is not { } thick)
        {
            throw new ModelFault("thickness-open", "a drawing has no thickness", "say it with --thickness, or in the column 'thickness'");
        }

        var content = DxfShapes.Of(drawing, Followed / unit.Millimetres);
        var scaled = content.Closed.Select(corners => corners.Select(corner => Scaled(corner, unit.Millimetres)).ToArray()).ToList();
        var (chained, open, twice) = new OutlineChains(Near).Join([.. content.Loose.Select(side => (Scaled(side.From, unit.Millimetres), Scaled(side.To, unit.Millimetres)))]);
        var outlines = scaled.Concat(chained).Select(Clean).Where(corners => corners.Length >= 2).Select(corners => new Outline(corners))
            .Where(outline => Math.Abs(outline.Area) > 1e-6).ToList();
        Tell(path, content, open, twice, findings);
        if (outlines.Count == 0)
        {
            throw new ModelFault("dxf-no-outline", "the drawing has no closed outline", open.Count > 0 ? $"close the lines; one ends at {Place(open[0])}" : "draw the part as closed lines, arcs, circles or polylines");
        }

        if (outlines.Count > MostOutlines || outlines.Sum(outline => (long)outline.Corners.Length) > MostSides)
        {
            throw ModelFault.TooMuch($"the drawing has {outlines.Count} outlines; at most {MostOutlines} with {MostSides} sides in all are read");
        }

        var groups = OutlineNesting.Group(outlines);
        return (unit, given is null ? $"{unit.Name} (the drawing says so)" : $"{unit.Name} (as given)", [.. groups.Select((group, number) => new ModelPart(
            groups.Count == 1 ? name : $"{name} {number + 1}", 1, ThickOutline.Of(group.Outer, group.Holes, thick)))]);
    }

    private static OutlineCorner Scaled(OutlineCorner corner, double scale) => Math.Abs(corner.X * scale) <= ModelLimits.Farthest && Math.Abs(corner.Y * scale) <= ModelLimits.Farthest && Math.Abs(corner.Bulge) <= 1e4
        ? new(corner.X * scale, corner.Y * scale, Math.Abs(corner.Bulge) < 1e-12 ? 0 : corner.Bulge)
        : throw ModelFault.Damaged("a corner lies more than a kilometre away, or an arc has no end");

    // Sides without length are left out.
    private static OutlineCorner[] Clean(OutlineCorner[] corners)
    {
        var list = new List<OutlineCorner>();
        for (var i = 0; i < corners.Length; i++)
        {
            var (a, b) = (corners[i], corners[(i + 1) % corners.Length]);
            if (Math.Abs(a.X - b.X) > 1e-9 || Math.Abs(a.Y - b.Y) > 1e-9)
            {
                list.Add(a);
            }
        }

        return list.Count == 2 && list[0].Bulge == 0 && list[1].Bulge == 0 ? [] : [.. list];
    }

    private static void Tell(string path, DxfContent content, List<(double X, double Y)> open, int twice, FindingList findings)
    {
        if (open.Count > 0)
        {
            findings.Note("dxf-open", new(path), $"{open.Count} lines or chains are not closed and are left out; one ends at {Place(open[0])}", "close them if they belong to a part");
        }

        if (twice > 0)
        {
            findings.Note("dxf-twice", new(path), $"{twice} lines lie on others and are read once");
        }

        if (content.Assumed > 0)
        {
            findings.Doubt(
                "dxf-through-points", new(path), $"{(content.Assumed == 1 ? "a spline is" : $"{content.Assumed} splines are")} given only by points to go through: "
                + $"read as {(content.Assumed == 1 ? "the cubic curve" : "cubic curves")} over the lengths of their chords, free at ends without a direction",
                "compare the box with the drawing's program, or let it write control points or polylines");
        }

        if (content.NotRead.Count > 0)
        {
            findings.Note(
                "dxf-not-read", new(path), $"not read: {string.Join(", ", content.NotRead.Select(pair => $"{pair.Value} {pair.Key}").Take(8))}",
                "turn them into lines, arcs or polylines if they belong to a part");
        }
    }

    private static string Place((double X, double Y) at) => string.Create(CultureInfo.InvariantCulture, $"{at.X:0.###}, {at.Y:0.###} mm");

    private static ModelUnit? UnitOf(int code) => code switch
    {
        1 => ModelUnits.Inch,
        2 => new("ft", 304.8),
        4 => ModelUnits.Millimetre,
        5 => new("cm", 10),
        6 => new("m", 1000),
        _ => null,
    };
}
