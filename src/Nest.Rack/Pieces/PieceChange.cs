using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>What to change on a piece; what is null stays.</summary>
public sealed record PieceChange
{
    /// <summary>Another material, where the wrong one was entered; the mass is booked anew.</summary>
    public string? MaterialId { get; init; }

    public Length? Length { get; init; }

    public Length? Width { get; init; }

    public Length? Thickness { get; init; }

    /// <summary>Smallest length; where only the length is given, the piece is that long all over.</summary>
    public Length? MinLength { get; init; }

    public Length? MinWidth { get; init; }

    public Length? MinThickness { get; init; }

    public RollingDirection? Rolling { get; init; }

    public CleanEdges? CleanEdges { get; init; }

    /// <summary>All the damage that the piece has, in place of what was known.</summary>
    public ImmutableArray<Rect>? KeepOuts { get; init; }

    /// <summary>Damage beside what is known (or beside <see cref="KeepOuts"/>); an area that is known already is not entered twice.</summary>
    public ImmutableArray<Rect> MoreKeepOuts { get; init; } = [];

    public bool? GoodFaces { get; init; }

    public string? Heat { get; init; }

    public string? Certificate { get; init; }

    public string? Supplier { get; init; }

    public string? Origin { get; init; }

    public Money? Value { get; init; }

    public PieceCondition? Condition { get; init; }

    public string? Note { get; init; }

    /// <summary>Only what the papers say: heat, certificate, supplier, origin, note.</summary>
    internal bool IsOfPapers => MoreKeepOuts.IsEmpty && this with { MoreKeepOuts = [] } == new PieceChange
    {
        Heat = Heat, Certificate = Certificate, Supplier = Supplier, Origin = Origin, Note = Note,
    };

    /// <summary>The piece with this change.</summary>
    public RackPiece On(RackPiece piece) => piece with
    {
        MaterialId = MaterialId ?? piece.MaterialId,
        Length = Length ?? piece.Length,
        Width = Width ?? piece.Width,
        Thickness = Thickness ?? piece.Thickness,
        MinLength = MinLength ?? (Length is null ? piece.MinLength : null),
        MinWidth = MinWidth ?? (Width is null ? piece.MinWidth : null),
        MinThickness = MinThickness ?? (Thickness is null ? piece.MinThickness : null),
        Rolling = Rolling ?? piece.Rolling,
        CleanEdges = CleanEdges ?? piece.CleanEdges,
        KeepOuts = [.. (KeepOuts ?? piece.KeepOuts).Concat(MoreKeepOuts).Distinct()],
        GoodFaces = GoodFaces ?? piece.GoodFaces,
        Heat = Heat ?? piece.Heat,
        Certificate = Certificate ?? piece.Certificate,
        Supplier = Supplier ?? piece.Supplier,
        Origin = Origin ?? piece.Origin,
        Value = Value ?? piece.Value,
        Condition = Condition ?? piece.Condition,
        Note = Note ?? piece.Note,
    };
}
