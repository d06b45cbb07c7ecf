using System.Collections.Immutable;

namespace Nest.Core.Jobs;

/// <summary>An alloy with its temper or a steel grade: what may be exchanged for each other in a job.</summary>
public sealed record Material
{
    /// <summary>Name used in parts lists and catalogues, e.g. <c>6061-T651</c>. Compared without regard to case.</summary>
    public required string Id { get; init; }

    /// <summary>Family by which saws and chips are judged: aluminium, steel, stainless, brass, copper, titanium, magnesium, plastic.</summary>
    public required string Family { get; init; }

    /// <summary>Nominal density in kg/m³.</summary>
    public required decimal Density { get; init; }

    /// <summary>Where the density is from.</summary>
    public string DensitySource { get; init; } = "";

    /// <summary>Other names by which parts lists may call it.</summary>
    public ImmutableArray<string> Aliases { get; init; } = [];

    /// <summary>What a scrap dealer pays for clean solids, per kg in the job's currency.</summary>
    public decimal ScrapPricePerKilogram { get; init; }
}
