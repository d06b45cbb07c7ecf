using System.Collections.Immutable;
using System.CommandLine;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary>Options for the fields of a piece.</summary>
internal sealed class PieceFields(RackAccess access)
{
    private readonly Option<string?> length = Size("--length", "Length, along the rolling direction or the bar.");
    private readonly Option<string?> width = Size("--width", "Width (of a square or round bar with the same --thickness).");
    private readonly Option<string?> thickness = Size("--thickness", "Thickness, side or diameter.");
    private readonly Option<string?> minLength = Size("--min-length", "Smallest length measured.");
    private readonly Option<string?> minWidth = Size("--min-width", "Smallest width measured.");
    private readonly Option<string?> minThickness = Size("--min-thickness", "Smallest thickness measured.");
    private readonly Option<string?> rolling = Word("--rolling", "Rolling direction of a plate.", "along-length", "unknown");
    private readonly Option<string[]> clean = new("--clean") { Description = "Edges sawn clean and straight: left, right, bottom, top, all or none.", HelpName = "EDGES", AllowMultipleArgumentsPerToken = true };
    private readonly Option<string[]> keepOut = new("--keep-out") { Description = "Damaged area x,y,width,height from the lower left corner, beside those that are known; several times for several. 'none', alone or first, takes the known ones off.", HelpName = "AREA" };
    private readonly Option<bool> goodFaces = new("--good-faces") { Description = "Faces machined or cold-drawn." };
    private readonly Option<bool> noGoodFaces = new("--no-good-faces") { Description = "Faces as rolled, or good no longer." };
    private readonly Option<string?> heat = new("--heat") { Description = "Heat or lot number.", HelpName = "NUMBER" };
    private readonly Option<string?> certificate = new("--certificate") { Description = "Reference of the certificate.", HelpName = "REF" };
    private readonly Option<string?> supplier = new("--supplier") { Description = "Who sold it.", HelpName = "NAME" };
    private readonly Option<string?> origin = new("--origin") { Description = "Where it is from, in words.", HelpName = "TEXT" };
    private readonly Option<decimal?> value = new("--value") { Description = "Cost it carries. A new piece without: what the starter's demo prices give.", HelpName = "AMOUNT" };
    private readonly Option<string?> condition = Word("--condition", "Condition.", "good", "fair", "poor");
    private readonly Option<string?> note = new("--note") { Description = "Remark.", HelpName = "TEXT" };

    public Option<string?> Place { get; } = new("--place") { Description = "Where it stands.", HelpName = "PLACE" };

    public void AddTo(Command command, bool sizes)
    {
        Option[] all = [minLength, minWidth, minThickness, rolling, clean, keepOut, goodFaces, heat, certificate, supplier, origin, value, condition, note];
        foreach (var option in sizes ? [length, width, thickness, .. all, noGoodFaces] : (Option[])[.. all, Place])
        {
            command.Add(option);
        }

        command.Validators.Add(result =>
        {
            if (result.GetValue(goodFaces) && sizes && result.GetValue(noGoodFaces))
            {
                result.AddError("--good-faces and --no-good-faces exclude each other.");
            }
        });
    }

    public bool HasValue(ParseResult parsed) => parsed.GetValue(value) is not null;

    /// <exception cref="RackException">A field cannot be read.</exception>
    public PieceChange Read(ParseResult parsed)
    {
        var unit = access.UnitOf(parsed);
        var areas = parsed.GetValue(keepOut) ?? [];
        if (areas.Skip(1).Any(IsNone))
        {
            throw new RackException(RackFault.Refused, "--keep-out none comes after an area", "name none first: it takes off what was known before");
        }

        return new()
        {
            Length = One(length),
            Width = One(width),
            Thickness = One(thickness),
            MinLength = One(minLength),
            MinWidth = One(minWidth),
            MinThickness = One(minThickness),
            Rolling = parsed.GetValue(rolling) switch { null => null, "unknown" => RollingDirection.Unknown, _ => RollingDirection.AlongLength },
            CleanEdges = parsed.GetValue(clean) is { Length: > 0 } edges ? Edges(edges) : null,
            KeepOuts = areas is [var first, ..] && IsNone(first) ? [] : null,
            MoreKeepOuts = [.. areas.Where(area => !IsNone(area)).Select(area => Area(area, unit))],
            GoodFaces = parsed.GetValue(goodFaces) ? true : parsed.GetValue(noGoodFaces) ? false : null,
            Heat = parsed.GetValue(heat),
            Certificate = parsed.GetValue(certificate),
            Supplier = parsed.GetValue(supplier),
            Origin = parsed.GetValue(origin),
            Value = parsed.GetValue(value) is { } amount ? Money.FromAmount(amount) : null,
            Condition = parsed.GetValue(condition) switch { null => null, "good" => PieceCondition.Good, "fair" => PieceCondition.Fair, _ => PieceCondition.Poor },
            Note = parsed.GetValue(note),
        };

        Length? One(Option<string?> option) => FilterOptions.Size(parsed, option, unit);
    }

    internal static CleanEdges Edges(IEnumerable<string> words)
    {
        var edges = default(CleanEdges);
        foreach (var word in words.SelectMany(word => word.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries)))
        {
            edges = word.ToLowerInvariant() switch
            {
                "none" => default,
                "all" => new(true, true, true, true),
                "left" => edges with { Left = true },
                "right" => edges with { Right = true },
                "bottom" => edges with { Bottom = true },
                "top" => edges with { Top = true },
                _ => throw new RackException(RackFault.Refused, $"'{word}' is no edge", "write all, none, or any of left, right, bottom, top"),
            };
        }

        return edges;
    }

    /// <summary>All the areas of an option; none of them where it says so.</summary>
    /// <exception cref="RackException">One cannot be read.</exception>
    internal static ImmutableArray<Rect> Areas(string[] areas, LengthUnit unit) =>
        areas is [var only] && IsNone(only) ? [] : [.. areas.Select(area => Area(area, unit))];

    private static bool IsNone(string area) => area.Trim().Equals("none", StringComparison.OrdinalIgnoreCase);

    private static Rect Area(string area, LengthUnit unit)
    {
        const string Advice = "write x,y,width,height such as 10,20,30,40, or none to take all off";
        return SizeText.List(area, unit, out var error) switch
        {
            { Length: 4 } lengths => new Rect(lengths[0], lengths[1], lengths[2], lengths[3]),
            null => throw new RackException(RackFault.Refused, $"'{area}' is no keep-out: {NumberInput.AtTheKeyboard(error)}", Advice),
            _ => throw new RackException(RackFault.Refused, $"'{area}' is no keep-out", Advice),
        };
    }

    private static Option<string?> Size(string name, string description) => new(name) { Description = description, HelpName = "SIZE" };

    private static Option<string?> Word(string name, string description, params string[] words)
    {
        var option = new Option<string?>(name) { Description = description };
        option.AcceptOnlyFromAmong(words);
        return option;
    }
}
