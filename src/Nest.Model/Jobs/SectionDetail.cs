using System.Globalization;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What the outer sizes do not tell of a tube, angle, channel, tee or named profile; of a hex bar nothing.</summary>
/// <remarks>Width and thickness of stock or part are the outer sizes. Round tube: both the outside diameter. Rectangular tube: the two sides, the
/// wide one first. Angle: the two legs, the long one first. Channel: height over the flanges, then width of a flange. Tee: width of the flange, then height
/// over all. Hex bar: both across flats. Corners count as sharp.</remarks>
public sealed record SectionDetail
{
    /// <summary>Wall of a tube, thickness of an angle's legs, of a channel's or tee's web; null: hex bar and named profile.</summary>
    public Length? Wall { get; init; }

    /// <summary>Thickness of a channel's or tee's flange; null: as the web.</summary>
    public Length? Flange { get; init; }

    /// <summary>Name of a named profile; null: another section.</summary>
    public string? Name { get; init; }

    /// <summary>Wall, flange and name in one text that is the same for the same section: for marks of plans and for racks.</summary>
    public string Key => string.Create(
        CultureInfo.InvariantCulture, $"{Wall?.Nanometres ?? 0}/{(Flange ?? Wall)?.Nanometres ?? 0}/{Name?.ToUpperInvariant() ?? ""}");

    /// <summary>Whether it is the same section beside the outer sizes. Names compare without regard to case.</summary>
    public bool Matches(SectionDetail other) => string.Equals(Key, other.Key, StringComparison.Ordinal);
}
