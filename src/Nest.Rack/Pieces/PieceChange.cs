using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>What to change on a piece; what is null stays.</summary>
public sealed record PieceChange
{
    public Length? Length { get; init; }

    public Length? Width { get; init; }

    public Length? Thickness { get; init; }

    /// <summary>Smallest length; where only the length is given, the piece is that long all over.</summary>
    public Length? MinLength { get; init; }

    public Length? MinWidth { get; init; }

    public Length? MinThickness { get; init; }

    public RollingDirection? Rolling { get; init; }

    public CleanEdges? CleanEdges { get; init; }

    public ImmutableArray<Rect>? KeepOuts { get; init; }

    public bool? GoodFaces { get; init; }

    public string? Heat { get; init; }

    public string? Certificate { get; init; }

    public string? Supplier { get; init; }

    public string? Origin { get; init; }

    public Money? Value { get; init; }

    public PieceCondition? Condition { get; init; }

    public string? Note { get; init; }

    /// <summary>Only what the papers say: heat, certificate, supplier, origin, note.</summary>
    internal bool IsOfPapers => this == new PieceChange
    {
        Heat = Heat, Certificate = Certificate, Supplier = Supplier, Origin = Origin, Note = Note,
    };

    /// <summary>The piece with this change.</summary>
    public RackPiece On(RackPiece piece) => piece with
    {
        Length = Length ?? piece.Length,
        Width = Width ?? piece.Width,
        Thickness = Thickness ?? piece.Thickness,
        MinLength = MinLength ?? (Length is null ? piece.MinLength : null),
        MinWidth = MinWidth ?? (Width is null ? piece.MinWidth : null),
        MinThickness = MinThickness ?? (Thickness is null ? piece.MinThickness : null),
        Rolling = Rolling ?? piece.Rolling,
        CleanEdges = CleanEdges ?? piece.CleanEdges,
        KeepOuts = KeepOuts ?? piece.KeepOuts,
        GoodFaces = GoodFaces ?? piece.GoodFaces,
        Heat = Heat ?? piece.Heat,
        Certificate = Certificate ?? piece.Certificate,
        Supplier = Supplier ?? piece.Supplier,
        Origin = Origin ?? piece.Origin,
        Value = Value ?? piece.Value,
        Condition = Condition ?? piece.Condition,
        Note = Note ?? piece.Note,
    };

    internal static IEnumerable<string> Words(RackPiece before, RackPiece after)
    {
        if ((before.Length, before.Width, before.Thickness) != (after.Length, after.Width, after.Thickness))
        {
            yield return $"size {before.Length} × {before.Width} × {before.Thickness} → {after.Length} × {after.Width} × {after.Thickness}";
        }

        if ((before.UsableLength, before.UsableWidth, before.UsableThickness) != (after.UsableLength, after.UsableWidth, after.UsableThickness))
        {
            yield return $"smallest size → {after.UsableLength} × {after.UsableWidth} × {after.UsableThickness}";
        }

        foreach (var (name, old, now) in new (string, object, object)[]
        {
            ("rolling direction", before.Rolling, after.Rolling), ("clean edges", before.CleanEdges, after.CleanEdges),
            ("good faces", before.GoodFaces, after.GoodFaces), ("heat", before.Heat, after.Heat),
            ("certificate", before.Certificate, after.Certificate), ("supplier", before.Supplier, after.Supplier),
            ("origin", before.Origin, after.Origin), ("value", before.Value, after.Value),
            ("condition", before.Condition, after.Condition), ("note", before.Note, after.Note),
        })
        {
            if (!Equals(old, now))
            {
                yield return $"{name} '{old}' → '{now}'";
            }
        }

        if (!before.KeepOuts.SequenceEqual(after.KeepOuts))
        {
            yield return $"{after.KeepOuts.Length} keep-outs";
        }
    }
}
