using Nest.Core.Jobs;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>The stocks read so far; names are unique over all files.</summary>
internal sealed class StockList
{
    private readonly Dictionary<string, SourcePosition> rows = new(StringComparer.OrdinalIgnoreCase);

    public List<Stock> Stocks { get; } = [];

    public void Add(Stock stock, CsvRow row, string column)
    {
        if (!rows.TryAdd(stock.Id, row.Where))
        {
            row.Error(column, "stock-twice", $"'{row.Text(column)}' is already at {rows[stock.Id]}", "give each stock a name of its own");
            return;
        }

        Stocks.Add(stock);
    }
}
