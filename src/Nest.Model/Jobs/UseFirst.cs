using System.Collections.Immutable;

namespace Nest.Core.Jobs;

/// <summary>Leftovers that the owner wants used up before other stock.</summary>
public sealed record UseFirst
{
    /// <summary>Marks or ids; case does not matter.</summary>
    public ImmutableArray<string> Names { get; init; } = [];

    /// <summary>And all that were entered at least so many days ago; null: none by age.</summary>
    public int? OlderThanDays { get; init; }

    /// <summary>Whether this leftover is meant.</summary>
    /// <param name="today">Null: not known, so nothing is meant by its age.</param>
    public bool Means(Stock stock, DateOnly? today) => stock.IsLeftover
        && (StockRule.Names(Names, stock)
            || (OlderThanDays is { } days && stock.Entered is { } entered && today is { } now && now.DayNumber - entered.DayNumber >= days));
}
