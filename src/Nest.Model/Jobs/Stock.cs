using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What a price is for.</summary>
public enum PriceBasis
{
    Piece,
    Metre,
    SquareMetre,
    Kilogram,
    Foot,
    SquareFoot,
    Pound,
}

/// <summary>Which edges of a piece are sawn clean and straight, so that they need no trim.</summary>
/// <param name="Left">X = 0.</param>
/// <param name="Right">X = length.</param>
/// <param name="Bottom">Y = 0.</param>
/// <param name="Top">Y = width.</param>
public readonly record struct CleanEdges(bool Left, bool Right, bool Bottom, bool Top);

/// <summary>A kind of stock that blanks are cut from: a catalogue size, or a leftover on the rack (a kind with one piece).</summary>
/// <remarks>Plate: <see cref="Length"/> along the rolling direction × <see cref="Width"/> × <see cref="Thickness"/>.
/// Flat bar: section <see cref="Width"/> ≥ <see cref="Thickness"/>. Square bar: width = thickness = side.
/// Round bar: width = thickness = diameter. Sections: see <see cref="SectionDetail"/>. Stock may be smaller than nominal: the Min values are what can be relied on, and
/// layouts use them.</remarks>
public sealed record Stock
{
    /// <summary>Unique within the job.</summary>
    public required string Id { get; init; }

    public required Form Form { get; init; }

    public required string MaterialId { get; init; }

    public required Length Length { get; init; }

    public required Length Width { get; init; }

    public required Length Thickness { get; init; }

    /// <summary>Smallest length that its standard or its measurement allows.</summary>
    public required Length MinLength { get; init; }

    /// <summary>Smallest width (bar: smallest section width; round: smallest diameter).</summary>
    public required Length MinWidth { get; init; }

    /// <summary>Smallest thickness (round: smallest diameter).</summary>
    public required Length MinThickness { get; init; }

    /// <summary>Of a section what its outer sizes do not tell; null: plate and solid bar.</summary>
    public SectionDetail? Detail { get; init; }

    /// <summary>Area of the section as its mass per metre gives it, where a list gives one: it counts then; null: from the sizes.</summary>
    public Area? ListedSection { get; init; }

    /// <summary>Price of one piece; for a leftover the value it is carried at.</summary>
    public required Money PiecePrice { get; init; }

    /// <summary>Price breaks and the smallest line; plain unless given.</summary>
    public PriceTerms Terms { get; init; } = PriceTerms.None;

    /// <summary>The part that the supplier cuts this piece to size for: one piece is one blank, with nothing left to saw; null: the
    /// shop saws it itself.</summary>
    public string? CutFor { get; init; }

    /// <summary>What a piece cut to size is cut from, and what of its price is for cutting; null: not cut to size, or not told.</summary>
    public CutFrom? CutFrom { get; init; }

    /// <summary>How the price was given, for the report.</summary>
    public PriceBasis PriceBasis { get; init; }

    /// <summary>The price as given, per its basis.</summary>
    public decimal UnitPrice { get; init; }

    /// <summary>How many there are; null: as many as wanted.</summary>
    public int? Available { get; init; }

    /// <summary>Who sells it; null for a leftover.</summary>
    public string? Supplier { get; init; }

    /// <summary>Mark of the leftover on the rack; null for bought stock.</summary>
    public string? RackMark { get; init; }

    /// <summary>Heat or lot number of a leftover; null: not known.</summary>
    public string? Heat { get; init; }

    /// <summary>Day on which a leftover was entered; null: not known.</summary>
    public DateOnly? Entered { get; init; }

    /// <summary>A leftover that is to be used up before other stock: it is planned with at little more than its scrap.</summary>
    public bool UseFirst { get; init; }

    /// <summary>Where the leftover stands.</summary>
    public string? Place { get; init; }

    /// <summary>Edges that need no trim (leftovers remember how they were sawn).</summary>
    public CleanEdges CleanEdges { get; init; }

    /// <summary>Damaged areas (holes, dents) in the piece's own coordinates; plates only.</summary>
    public ImmutableArray<Rect> KeepOuts { get; init; } = [];

    /// <summary>Faces come machined or cold-drawn: a part that accepts mill faces needs no facing.</summary>
    public bool GoodFaces { get; init; }

    /// <summary>Standard or source of the sizes and tolerances.</summary>
    public string Source { get; init; } = "";

    public bool IsLeftover => RackMark is not null;

    /// <summary>Area of the metal in the section of a bar, or thickness × width of a plate, by nominal size or by the listed mass.</summary>
    public Area Section => ListedSection ?? SectionArea.Of(Form, Width, Thickness, Detail);

    /// <summary>Nominal mass of one piece.</summary>
    public Mass PieceMass(Material material) => Mass.Of(Section, Length, material.Density);

    /// <summary>Whether a part that asks for a length of a section asks for this one. O(1).</summary>
    public bool IsSectionOf(Part part) => Detail is { } own && part.Detail is { } asked && part.Forms.Has(Form)
        && (Width, Thickness) == (part.Width, part.Thickness) && own.Matches(asked);
}
