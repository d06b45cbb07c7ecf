using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Leftovers that are alike in all but mark and place, as one kind of stock with so many pieces.</summary>
/// <remarks>
/// Problem: every leftover is a kind of stock of its own, so twenty-six equal rests of one batch are twenty-six kinds, and all plans that
/// differ only in which of them is cut are searched, and bounded, again. Method: leftovers that no rule of the job tells apart (same sizes,
/// edges, keep-outs, value, and the same blanks served in the same way, none that must come from one stock) are merged before the search and handed out again, in the job's
/// order, when the plan is put together. Guarantee: plans of the merged job are those of the job, at the same cost, so bounds are the
/// same. O(stocks · blanks).
/// <para>A leftover may be carried below what it brings as scrap, down to nothing (paid for by another plan, old, or so valued by the shop). Cutting it then
/// earns money, and neither the kernels nor the linear costs know layouts that cost less than nothing. Such leftovers are solved at their scrap value, and the
/// plan is costed at their own price again: Σ δ_s y_s less, where δ_s is what the price was raised by. As y_s ≤ stock_s, a bound of the raised job less
/// Σ δ_s stock_s is one for the job (<see cref="Own(Bound)"/>). The exact method knows such layouts: <see cref="WholeProof"/> goes on with it at the leftovers' own
/// prices.</para>
/// </remarks>
internal sealed class StockTwins
{
    private readonly Dictionary<string, ImmutableArray<string>> _pieces;

    /// <summary>By how much the price of a stock of the merged job was raised.</summary>
    private readonly Dictionary<string, Money> _raised = new(StringComparer.Ordinal);
    private readonly Money _mostRaised;

    private readonly Job _asGiven;

    private StockTwins(Job job, ImmutableArray<Blank> blanks, Job merged, ImmutableArray<Blank> mergedBlanks, Dictionary<string, ImmutableArray<string>> pieces, bool raises = true)
    {
        (Job, Blanks, MergedBlanks, _pieces, _asGiven) = (job, blanks, mergedBlanks, pieces, merged);
        if (!raises)
        {
            Merged = merged;
            return;
        }

        var served = mergedBlanks.SelectMany(blank => blank.Fits).Select(fit => fit.StockId).ToHashSet(StringComparer.Ordinal);
        foreach (var stock in merged.Stocks.Where(stock => stock.IsLeftover && served.Contains(stock.Id)))
        {
            var lacking = StockWorth.Of(merged, stock).Scrap - stock.PiecePrice;
            if (lacking > Money.Zero)
            {
                _raised.Add(stock.Id, lacking);
                _mostRaised += lacking * (stock.Available ?? 1);
            }
        }

        Merged = _raised.Count == 0 ? merged : merged with
        {
            Stocks = [.. merged.Stocks.Select(stock => _raised.TryGetValue(stock.Id, out var more) ? stock with { PiecePrice = stock.PiecePrice + more } : stock)],
        };
    }

    /// <summary>The job as it was given.</summary>
    public Job Job { get; }

    public ImmutableArray<Blank> Blanks { get; }

    /// <summary>The job that is solved.</summary>
    public Job Merged { get; }

    public ImmutableArray<Blank> MergedBlanks { get; }

    public static StockTwins Of(Job job, ImmutableArray<Blank> blanks)
    {
        var served = job.Stocks.ToDictionary(stock => stock.Id, _ => new List<(int Blank, BlankFit Fit)>(), StringComparer.Ordinal);
        for (var i = 0; i < blanks.Length; i++)
        {
            foreach (var fit in blanks[i].Fits)
            {
                served[fit.StockId].Add((i, fit with { StockId = "" }));
            }
        }

        var groups = job.Stocks.Where(stock => stock is { IsLeftover: true, Available: 1 })
            .GroupBy(stock => stock, new Alike(blanks, served))
            .Where(group => group.Count() > 1)
            .ToDictionary(group => group.Key.Id, group => group.Select(stock => stock.Id).ToImmutableArray(), StringComparer.Ordinal);
        if (groups.Count == 0)
        {
            return new(job, blanks, job, blanks, groups);
        }

        var dropped = groups.SelectMany(group => group.Value.Skip(1)).ToHashSet(StringComparer.Ordinal);
        return new(
            job, blanks,
            job with
            {
                Stocks = [.. job.Stocks.Where(stock => !dropped.Contains(stock.Id))
                    .Select(stock => groups.TryGetValue(stock.Id, out var pieces) ? stock with { Available = pieces.Length } : stock)],
            },
            [.. blanks.Select(blank => blank with { Fits = [.. blank.Fits.Where(fit => !dropped.Contains(fit.StockId))] })],
            groups);
    }

    /// <summary>Whether a leftover is solved at more than its own price.</summary>
    public bool IsRaised => _raised.Count > 0;

    /// <summary>The same merging, every leftover at its own price: only for methods that know layouts which cost less than nothing.</summary>
    public StockTwins AtOwnPrices() => new(Job, Blanks, _asGiven, MergedBlanks, _pieces, raises: false);

    /// <summary>A component's plan at the leftovers' own prices.</summary>
    public Chosen AtOwnPrices(Chosen chosen) => chosen with { Columns = [.. chosen.Columns.Select(entry => (Priced(entry.Column), entry.Count))] };

    /// <summary>A bound of the merged job as one for the job as it was given.</summary>
    public Bound Own(Bound bound) => bound.Less(_mostRaised);

    /// <summary>What a plan of the merged job costs more there than in the job as it was given.</summary>
    public Money Raised(IEnumerable<(Column Column, int Count)> layouts) => _raised.Count == 0 ? Money.Zero : layouts.Aggregate(
        Money.Zero, (sum, entry) => sum + (_raised.GetValueOrDefault(entry.Column.Layout.StockId) * entry.Count));

    /// <summary>The layouts with every leftover by its own name and at its own price.</summary>
    public IEnumerable<(Column Column, int Count)> HandOut(IEnumerable<(Column Column, int Count)> layouts) =>
        Named(_raised.Count == 0 ? layouts : layouts.Select(entry => (Priced(entry.Column), entry.Count)));

    private Column Priced(Column column)
    {
        if (!_raised.TryGetValue(column.Layout.StockId, out var more))
        {
            return column;
        }

        var cost = column.Layout.Cost with { Metal = column.Layout.Cost.Metal - more };
        return column with { Cost = column.Cost - more.Units, Layout = column.Layout with { Cost = cost } };
    }

    private IEnumerable<(Column Column, int Count)> Named(IEnumerable<(Column Column, int Count)> layouts)
    {
        // The layouts of a kind in an order that does not depend on how they were found.
        foreach (var kind in layouts.GroupBy(entry => entry.Column.Layout.StockId))
        {
            if (!_pieces.TryGetValue(kind.Key, out var pieces))
            {
                foreach (var entry in kind)
                {
                    yield return entry;
                }

                continue;
            }

            var next = 0;
            foreach (var (column, count) in kind.OrderByDescending(entry => entry.Count).ThenBy(entry => entry.Column.Key, StringComparer.Ordinal))
            {
                for (var i = 0; i < count; i++)
                {
                    yield return (column with { Layout = column.Layout with { StockId = pieces[next++] } }, 1);
                }
            }
        }
    }

    private sealed class Alike(ImmutableArray<Blank> blanks, Dictionary<string, List<(int Blank, BlankFit Fit)>> served) : IEqualityComparer<Stock>
    {
        public bool Equals(Stock? a, Stock? b) => a is not null && b is not null
            && Plain(a) == Plain(b)
            && a.KeepOuts.SequenceEqual(b.KeepOuts)
            && served[a.Id].SequenceEqual(served[b.Id])
            && !served[a.Id].Any(entry => blanks[entry.Blank].Part.OneStock);

        public int GetHashCode(Stock stock) => Plain(stock).GetHashCode();

        private static Stock Plain(Stock stock) => stock with
        {
            Id = "",
            RackMark = "",
            Place = "",
            KeepOuts = [],
            Entered = null,
            Heat = string.IsNullOrEmpty(stock.Heat) ? null : "known",
        };
    }
}
