using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Jobs;
using Nest.Data.Stocks;
using Nest.Data.Toml;

namespace Nest.Data.Racks;

/// <summary>What a piece without a value is entered at: the rule by which a job values the leftovers of its <c>rack.csv</c>, with the
/// starter's catalogue and offcut rules, since a rack belongs to no job.</summary>
public sealed class StarterWorth
{
    private readonly List<Stock> catalogue;
    private readonly IReadOnlyList<OffcutRule> rules;

    private StarterWorth(List<Stock> catalogue, IReadOnlyList<OffcutRule> rules)
    {
        this.catalogue = catalogue;
        this.rules = rules;
    }

    /// <param name="unit">The starter's files in inches or in millimetres.</param>
    public static StarterWorth Load(LengthUnit unit)
    {
        var findings = new FindingList();
        var book = new MaterialBook();
        Starter.ReadMaterials(book, findings);
        var stocks = new StockList();
        Starter.ReadCatalogue(unit, book, stocks, findings);
        var rules = ShopRules.OfStarter(unit, book, findings);
        return findings.Errors == 0
            ? new(stocks.Stocks, rules.Offcuts)
            : throw new InvalidOperationException("The embedded starter files cannot be read.");
    }

    public Money Of(RackPiece piece, Material material) => LeftoverPrice.Of(piece.ToStock(Money.Zero), material, catalogue, rules);
}
