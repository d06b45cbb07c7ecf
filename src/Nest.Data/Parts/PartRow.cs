using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Data.Parts;

/// <summary>A part with the place it was read from.</summary>
/// <param name="SizeText">Its size as written, where it stood in one text; else empty.</param>
internal sealed record PartRow(Part Part, SourcePosition Where, string SizeText = "")
{
    /// <summary>How much its dimensions may change; null: the list does not say.</summary>
    public DesignLimits? Limits { get; init; }

    /// <summary>Spares that are wanted where they are free; null: the list does not say.</summary>
    public int? FreeSpares { get; init; }

    /// <summary>All rows that were added up.</summary>
    public ImmutableArray<SourcePosition> Rows { get; init; } = [Where];
}
