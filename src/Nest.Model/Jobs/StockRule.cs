using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What the owner does not want parts to come from, though it would serve. All that is said must hold.</summary>
/// <remarks>Stock is named by its id, a leftover also by its mark; a row cut to size by the name that it has in the list. Case does not
/// matter.</remarks>
public sealed record StockRule
{
    /// <summary>Parts that it is for; empty: all.</summary>
    public ImmutableArray<string> Parts { get; init; } = [];

    /// <summary>These stocks only; empty: any.</summary>
    public ImmutableArray<string> Only { get; init; } = [];

    /// <summary>Not these stocks.</summary>
    public ImmutableArray<string> Not { get; init; } = [];

    /// <summary>Not from these suppliers.</summary>
    public ImmutableArray<string> NotFrom { get; init; } = [];

    /// <summary>Most that the stock's thickness (of a bar its thinner side, of a round bar its diameter), nominal, may be above the part's:
    /// of plate its finished thickness, of a bar its smallest finished dimension.</summary>
    public Length? AtMostThicker { get; init; }

    /// <summary>Whether the rule says nothing against this part coming from this stock.</summary>
    public bool Allows(Part part, Stock stock)
    {
        if (!Parts.IsEmpty && !Has(Parts, part.Id))
        {
            return true;
        }

        return (Only.IsEmpty || Names(Only, stock)) && !Names(Not, stock)
            && (stock.Supplier is not { } supplier || !Has(NotFrom, supplier))
            && (AtMostThicker is not { } most || part.Detail is not null || stock.Thickness - Thin(part, stock) <= most);
    }

    /// <summary>Whether one of these names means this stock.</summary>
    public static bool Names(ImmutableArray<string> names, Stock stock) => Has(names, stock.Id)
        || (stock.RackMark is { } mark && Has(names, mark))
        || (stock.CutFor is { } part && names.Any(name => string.Equals($"{name} cut for {part}", stock.Id, StringComparison.OrdinalIgnoreCase)));

    private static Length Thin(Part part, Stock stock) =>
        stock.Form == Form.Plate && !part.Round ? part.Thickness : Length.Min(part.Length, Length.Min(part.Width, part.Thickness));

    private static bool Has(ImmutableArray<string> names, string one) => names.Contains(one, StringComparer.OrdinalIgnoreCase);
}
