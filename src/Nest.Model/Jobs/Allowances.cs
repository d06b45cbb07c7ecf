using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>How a part is held at the mill or lathe.</summary>
public enum Holding
{
    Vise,
    FixturePlate,
    SoftJaws,
    Chuck,
}

/// <summary>What a blank has over the finished part.</summary>
/// <param name="SideCleanUp">On every sawn (or bar) side: length and width of a flat part, radius of a round one; per side.</param>
/// <param name="EndCleanUp">On each sawn end of a bar blank.</param>
/// <param name="FaceTop">Faced off the top.</param>
/// <param name="FaceBottom">Faced off the bottom.</param>
/// <param name="Grip">What the vise holds and is milled away at the end: added to the thickness of a flat part, to the length of a
/// round part in a chuck.</param>
public readonly record struct Allowances(
    Length SideCleanUp, Length EndCleanUp, Length FaceTop, Length FaceBottom, Length Grip);

/// <summary>Allowances of which some are given.</summary>
public sealed record AllowanceOverrides
{
    public Length? SideCleanUp { get; init; }

    public Length? EndCleanUp { get; init; }

    public Length? FaceTop { get; init; }

    public Length? FaceBottom { get; init; }

    public Length? Grip { get; init; }

    /// <summary>The given ones replace those of <paramref name="below"/>.</summary>
    public Allowances Over(Allowances below) => new(
        SideCleanUp ?? below.SideCleanUp,
        EndCleanUp ?? below.EndCleanUp,
        FaceTop ?? below.FaceTop,
        FaceBottom ?? below.FaceBottom,
        Grip ?? below.Grip);
}

/// <summary>Allowances for the parts that match; a condition that is null matches all. Rules apply from top to bottom, later ones
/// replace what earlier ones gave; a part's own allowances come last.</summary>
public sealed record AllowanceRule
{
    public string? MaterialId { get; init; }

    public string? Family { get; init; }

    public Holding? Holding { get; init; }

    public required AllowanceOverrides Allowances { get; init; }

    public bool Matches(Part part, Material material) =>
        (MaterialId is null || string.Equals(MaterialId, material.Id, StringComparison.OrdinalIgnoreCase))
        && (Family is null || string.Equals(Family, material.Family, StringComparison.OrdinalIgnoreCase))
        && (Holding is null || Holding == part.Holding);
}
