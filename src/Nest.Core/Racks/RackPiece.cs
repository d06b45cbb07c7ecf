using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Racks;

/// <summary>Where a piece is in its life.</summary>
public enum PieceState
{
    OnRack = 0,

    /// <summary>On the rack, but a plan has it.</summary>
    Reserved = 1,

    /// <summary>Cut up.</summary>
    Cut = 2,

    /// <summary>Thrown away.</summary>
    Scrapped = 3,

    /// <summary>A stock-take did not find it.</summary>
    Lost = 4,
}

/// <summary>What is known of the rolling direction.</summary>
public enum RollingDirection
{
    /// <summary>Along the piece's length.</summary>
    AlongLength = 0,

    /// <summary>Not known: not for parts that must not be turned.</summary>
    Unknown = 1,
}

/// <summary>How good a piece is; the shop says what each is worth.</summary>
public enum PieceCondition
{
    Good = 0,

    /// <summary>Scratched, stained.</summary>
    Fair = 1,

    /// <summary>Bent, corroded.</summary>
    Poor = 2,
}

/// <summary>A piece of metal with a mark: a leftover, or a whole plate or bar that was bought.</summary>
public sealed record RackPiece
{
    /// <summary>Painted on it; given by the rack when it is entered.</summary>
    public string Mark { get; init; } = "";

    public PieceState State { get; init; }

    public required Form Form { get; init; }

    /// <summary>Alloy with temper, or grade: <c>6061-T651</c>.</summary>
    public required string MaterialId { get; init; }

    public required Length Length { get; init; }

    public required Length Width { get; init; }

    public required Length Thickness { get; init; }

    /// <summary>Of a section what its outer sizes do not tell; null: plate and solid bar.</summary>
    public SectionDetail? Detail { get; init; }

    /// <summary>Area of the section's metal as its list had it; null: from the sizes.</summary>
    public Area? ListedSection { get; init; }

    /// <summary>Smallest measured length; null: as <see cref="Length"/>.</summary>
    public Length? MinLength { get; init; }

    public Length? MinWidth { get; init; }

    public Length? MinThickness { get; init; }

    public RollingDirection Rolling { get; init; }

    public CleanEdges CleanEdges { get; init; }

    /// <summary>Damage and holes, from the piece's lower left corner; plates only.</summary>
    public ImmutableArray<Rect> KeepOuts { get; init; } = [];

    /// <summary>Faces are machined or cold-drawn.</summary>
    public bool GoodFaces { get; init; }

    /// <summary>Heat or lot number.</summary>
    public string Heat { get; init; } = "";

    /// <summary>Reference of the certificate.</summary>
    public string Certificate { get; init; } = "";

    /// <summary>Where it stands.</summary>
    public string Place { get; init; } = "";

    /// <summary>Whole, as it was bought.</summary>
    public bool Bought { get; init; }

    public string Supplier { get; init; } = "";

    /// <summary>Where it is from, in words; of a leftover also <see cref="ParentMark"/>.</summary>
    public string Origin { get; init; } = "";

    /// <summary>Mark of the piece it was cut from; null when it was not cut here.</summary>
    public string? ParentMark { get; init; }

    /// <summary>Cost it carries.</summary>
    public Money Value { get; init; }

    public DateOnly Entered { get; init; }

    public PieceCondition Condition { get; init; }

    public string Note { get; init; } = "";

    /// <summary>The plan that has reserved it.</summary>
    public long? ReservedFor { get; init; }

    /// <summary>Mass by nominal size, whole micrograms.</summary>
    public long Micrograms { get; init; }

    public Length UsableLength => MinLength ?? Length;

    public Length UsableWidth => MinWidth ?? Width;

    public Length UsableThickness => MinThickness ?? Thickness;

    /// <summary>Mass to the microgram.</summary>
    public Mass Mass => new(Micrograms / 1_000_000_000m);

    /// <summary>Its size as a stock of a job; value as given.</summary>
    public Stock ToStock(Money value) => new()
    {
        Id = "rack-" + Mark,
        Form = Form,
        MaterialId = MaterialId,
        Length = Length,
        Width = Width,
        Thickness = Thickness,
        Detail = Detail,
        ListedSection = ListedSection,
        MinLength = UsableLength,
        MinWidth = UsableWidth,
        MinThickness = UsableThickness,
        PiecePrice = value,
        UnitPrice = value.Amount,
        Available = 1,
        RackMark = Mark,
        Heat = Heat.Length == 0 ? null : Heat,
        Entered = Entered == default ? null : Entered,
        Place = Place.Length == 0 ? null : Place,
        CleanEdges = CleanEdges,
        KeepOuts = KeepOuts,
        GoodFaces = GoodFaces,
        Source = "rack",
    };
}
