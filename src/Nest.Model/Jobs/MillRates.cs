using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>How much a mill removes in a minute in one family of materials.</summary>
public readonly record struct RemovalRate(string Family, decimal CubicCentimetresPerMinute);

/// <summary>What it costs to face metal away that a blank has only because its stock is thicker or wider than the blank needs.</summary>
public sealed record MillRates
{
    /// <summary>Cost of an hour at the mill, in the job's currency.</summary>
    public decimal HourlyRate { get; init; }

    public ImmutableArray<RemovalRate> RemovalRates { get; init; } = [];

    public decimal DefaultRemovalRate { get; init; } = 20m;

    /// <summary>Minutes to clamp, turn and take out a blank, each time; counted for parts that may be milled several from one blank.</summary>
    public decimal BlankMinutes { get; init; }

    /// <summary>Widest that the vise takes; null: not told.</summary>
    public Length? ViseOpening { get; init; }

    /// <summary>Longer travel of the mill; null: not told.</summary>
    public Length? TravelX { get; init; }

    /// <summary>Shorter travel of the mill; null: not told.</summary>
    public Length? TravelY { get; init; }

    public decimal RateFor(string family)
    {
        foreach (var rate in RemovalRates)
        {
            if (string.Equals(rate.Family, family, StringComparison.OrdinalIgnoreCase))
            {
                return rate.CubicCentimetresPerMinute;
            }
        }

        return DefaultRemovalRate;
    }
}
