using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Jobs;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Racks;

/// <summary>What a piece without a value is entered at: the rule by which a job values the leftovers of its <c>rack.csv</c>, with the shop's own
/// price lists or, where it names none, the starter's catalogue and offcut rules.</summary>
public sealed class PieceWorth
{
    private readonly IReadOnlyList<Stock> catalogue;
    private readonly IReadOnlyList<OffcutRule> rules;

    private PieceWorth(IReadOnlyList<Stock> catalogue, IReadOnlyList<OffcutRule> rules, bool own)
    {
        this.catalogue = catalogue;
        this.rules = rules;
        IsOwn = own;
    }

    /// <summary>Whether the prices are the shop's own, and not the starter's.</summary>
    public bool IsOwn { get; }

    /// <param name="files">Job files, whose catalogues, price lists and offcut rules count, or catalogues; empty: the starter's.</param>
    /// <param name="unit">Unit of bare numbers, and of the starter's files.</param>
    public static ReadResult<PieceWorth> Load(IReadOnlyCollection<string> files, LengthUnit unit)
    {
        var findings = new FindingList();
        var book = new MaterialBook();
        Starter.ReadMaterials(book, findings);
        var stocks = new StockList();
        IReadOnlyList<OffcutRule> rules = ShopRules.OfStarter(unit, book, findings).Offcuts;
        foreach (var file in files)
        {
            if (Path.GetExtension(file).Equals(".toml", StringComparison.OrdinalIgnoreCase))
            {
                if (TextFile.Read(file, "a job file", findings) is { } text && new JobFile(file, ShopNames.For(file, TableChoices.None, findings), findings).Prices(text) is var (catalogue, own))
                {
                    stocks.Stocks.AddRange(catalogue);
                    rules = own;
                }
            }
            else
            {
                CatalogueReader.ReadFile(file, "a catalogue", ShopNames.For(file, TableChoices.None, findings), new(unit, null), book, stocks, PriceSource.Catalogue(""), findings);
            }
        }

        if (files.Count == 0)
        {
            Starter.ReadCatalogue(unit, book, stocks, findings);
        }

        return findings.Result(findings.Errors > 0 ? null : new PieceWorth(stocks.Stocks, rules, files.Count > 0));
    }

    public Money Of(RackPiece piece, Material material) => LeftoverPrice.Of(piece.ToStock(Money.Zero), material, catalogue, rules);
}
