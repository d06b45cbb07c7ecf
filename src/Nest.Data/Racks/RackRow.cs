using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Racks;

/// <summary>A piece as a table of the rack names it; what is null was left empty.</summary>
public sealed record RackRow
{
    public required SourcePosition Where { get; init; }

    public required string Mark { get; init; }

    public required Form Form { get; init; }

    public required Material Material { get; init; }

    public required Length Length { get; init; }

    public required Length Width { get; init; }

    public required Length Thickness { get; init; }

    public Length? MinLength { get; init; }

    public Length? MinWidth { get; init; }

    public Length? MinThickness { get; init; }

    public bool RollingUnknown { get; init; }

    public CleanEdges CleanEdges { get; init; }

    public ImmutableArray<Rect> KeepOuts { get; init; } = [];

    public bool GoodFaces { get; init; }

    public string Heat { get; init; } = "";

    public string Certificate { get; init; } = "";

    public string Place { get; init; } = "";

    public bool Bought { get; init; }

    public string Supplier { get; init; } = "";

    public string Origin { get; init; } = "";

    public Money? Value { get; init; }

    public DateOnly? Entered { get; init; }

    /// <summary>good, fair or poor; empty: not said.</summary>
    public string Condition { get; init; } = "";

    public string Note { get; init; } = "";
}

/// <summary>All rows of a table.</summary>
public sealed record RackRows(ImmutableArray<RackRow> Rows);
