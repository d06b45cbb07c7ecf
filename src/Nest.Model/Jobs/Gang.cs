using System.Collections.Immutable;

namespace Nest.Core.Jobs;

/// <summary>A part that gets so many pieces from each gang blank.</summary>
/// <param name="Part">The part as the list names it.</param>
/// <param name="Count">Pieces of it in each blank.</param>
/// <param name="Asked">Pieces of it that the job asks for in all.</param>
public sealed record GangMember(string Part, int Count, int Asked);

/// <summary>One blank from which several parts are milled, in rows and columns with a gap between them.</summary>
/// <remarks>The part that carries it stands for the blank: its sizes are those of one finished part, its blank is <see cref="Jobs.Part.AsBlock"/> with one clean-up, one facing and one grip.</remarks>
public sealed record Gang
{
    /// <summary>Across the part's width.</summary>
    public required int Rows { get; init; }

    /// <summary>Along the part's length.</summary>
    public required int Columns { get; init; }

    /// <summary>Blanks of this kind that are cut.</summary>
    public required int Blanks { get; init; }

    /// <summary>A smaller blank for what the whole ones leave: the mill is set up for it by itself.</summary>
    public bool Rest { get; init; }

    /// <summary>The part; of left and right in pairs both, half and half, or one alone where the other needs no more.</summary>
    public required ImmutableArray<GangMember> Members { get; init; }

    public int Parts => Rows * Columns;
}
