using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>How many parts may be milled from one blank, as the owner says. What the mill takes off these parts' blanks is counted whole, so that one blank for
/// each and one for several can be compared.</summary>
public sealed record PerBlank
{
    /// <summary>Numbers that are allowed, rising; empty: any that the mill holds.</summary>
    public ImmutableArray<int> Counts { get; init; } = [];

    /// <summary>Between two parts: the cutter, and what finishing takes on both sides.</summary>
    public Length Gap { get; init; }

    /// <summary>The part of the same size that shares each blank half and half (its other hand); null: none.</summary>
    public string? With { get; init; }

    /// <summary>All that it says, to compare two.</summary>
    public string Key => string.Create(CultureInfo.InvariantCulture, $"{string.Join(',', Counts)}|{Gap.Nanometres}|{With}");

    /// <summary>Whether the mill's sizes must be told: there is no other limit.</summary>
    public bool IsAny => Counts.IsEmpty;
}
