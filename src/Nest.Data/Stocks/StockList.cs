using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>The stocks read so far; names are unique over all files.</summary>
internal sealed class StockList
{
    private readonly Dictionary<string, SourcePosition> rows = new(StringComparer.OrdinalIgnoreCase);

    public List<Stock> Stocks { get; } = [];

    /// <summary>Where each stock was read, by its name.</summary>
    public IReadOnlyDictionary<string, SourcePosition> Rows => rows;

    /// <summary>What suppliers cut to size.</summary>
    public List<CutOffer> Offers { get; } = [];

    public void Offer(CutOffer offer) => Offers.Add(offer);

    /// <param name="offeredWhole">Whether it can be bought as it is, and not only in pieces cut to size.</param>
    public void Add(Stock stock, CsvRow row, string column, bool offeredWhole = true)
    {
        if (Claim(stock.Id, row, column) && offeredWhole)
        {
            Stocks.Add(stock);
        }
    }

    /// <summary>Takes a name for a row, also for one that turns out to be wrong: the next row of that name is told at once.</summary>
    /// <returns>Whether no other row has it.</returns>
    public bool Claim(string id, CsvRow row, string column)
    {
        if (rows.TryAdd(id, row.Where) || rows[id] == row.Where)
        {
            return true;
        }

        row.Error(column, "stock-twice", $"'{(row.Has(column) ? row.Text(column) : id)}' is already at {rows[id]}", "give each stock a name of its own");
        return false;
    }
}
