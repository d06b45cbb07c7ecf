using System.Globalization;

namespace Nest.Data.Models.Dxf;

/// <summary>An entity: its kind and its pairs of code and value.</summary>
internal sealed class DxfEntity(string kind, int line)
{
    public string Kind { get; } = kind;

    /// <summary>Line of the file where it begins.</summary>
    public int Line { get; } = line;

    public List<(int Code, string Value, int Line)> Pairs { get; } = [];

    /// <summary>Vertices of a polyline of the old kind, which are entities of their own.</summary>
    public List<DxfEntity> Vertices { get; } = [];

    /// <summary>Number behind the first pair of this code.</summary>
    public double Of(int code, double missing = 0) => Pairs.FindIndex(pair => pair.Code == code) is >= 0 and var at
        ? DxfText.Number(Pairs[at].Value, Pairs[at].Line)
        : missing;

    public int Flags => (int)Of(70);

    public string Text(int code) => Pairs.Find(pair => pair.Code == code).Value ?? "";

    /// <summary>Numbers behind all pairs of this code.</summary>
    public double[] All(int code) => [.. Pairs.Where(pair => pair.Code == code).Select(pair => DxfText.Number(pair.Value, pair.Line))];
}

/// <summary>Entities under a name, to be put in by INSERT.</summary>
/// <param name="Base">The block itself, with its base point.</param>
internal sealed record DxfBlock(DxfEntity Base, List<DxfEntity> Entities);

/// <summary>What a drawing holds.</summary>
/// <param name="UnitCode">$INSUNITS; 0: none.</param>
internal sealed record DxfDrawing(List<DxfEntity> Entities, Dictionary<string, DxfBlock> Blocks, int UnitCode);

/// <summary>Reads the pairs of code and value of a text DXF: unit, blocks and entities.</summary>
internal sealed class DxfText : IDisposable
{
    private readonly StreamReader reader;
    private readonly DxfDrawing drawing = new([], new(StringComparer.OrdinalIgnoreCase), 0);
    private DxfBlock? block;
    private DxfEntity? polyline;
    private int line;
    private int pairs;

    private DxfText(Stream stream) => reader = new(stream, System.Text.Encoding.Latin1, leaveOpen: true);

    public static DxfDrawing Read(Stream stream)
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

    public static double Number(string value, int row) =>
        double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) && Math.Abs(number) <= 1e9
            ? number
            : throw ModelFault.Damaged($"'{ModelLimits.CleanName(value)}' is no number, or beyond all sizes", row);

    private DxfDrawing Run()
    {
        var (section, unit, variable) = ("", 0, "");
        DxfEntity? entity = null;
        while (Pair() is var (code, value))
        {
            if (code == 0)
            {
                if (entity is not null && section is "ENTITIES" or "BLOCKS")
                {
                    Finish(entity, section == "BLOCKS");
                }

                entity = null;
                switch (value)
                {
                    case "EOF":
                        return drawing with { UnitCode = unit };
                    case "ENDSEC":
                        (section, block, polyline) = ("", null, null);
                        break;
                    default:
                        entity = new(value, line);
                        break;
                }
            }
            else if (code == 2 && section.Length == 0 && entity is { Kind: "SECTION" })
            {
                // Only the first: variables of the header have names of their own behind this code.
                section = value;
            }
            else if (section == "HEADER")
            {
                variable = code == 9 ? value : variable;
                unit = variable == "$INSUNITS" && code == 70 ? (int)Number(value, line) : unit;
            }
            else if (entity is not null && section is "ENTITIES" or "BLOCKS" && code is 2 or (>= 10 and <= 59) or 62 or 66 or 67 or (>= 70 and <= 74) or 210 or 220 or 230)
            {
                entity.Pairs.Add((code, value, line));
                if (++pairs > 6 * ModelLimits.Entities)
                {
                    throw ModelFault.TooMuch("the drawing has too many entities");
                }
            }
        }

        throw ModelFault.Damaged("the drawing is cut off: EOF is missing", line);
    }

    private void Finish(DxfEntity entity, bool inBlocks)
    {
        switch (entity.Kind)
        {
            case "SECTION":
                break;
            case "BLOCK" when inBlocks:
                (block, polyline) = (new(entity, []), null);
                drawing.Blocks[entity.Text(2)] = block;
                break;
            case "ENDBLK":
                (block, polyline) = (null, null);
                break;
            case "VERTEX":
                polyline?.Vertices.Add(entity);
                break;
            case "SEQEND":
                polyline = null;
                break;
            default:
                polyline = entity.Kind == "POLYLINE" ? entity : null;
                (inBlocks ? block?.Entities : drawing.Entities)?.Add(entity);
                break;
        }
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
}
