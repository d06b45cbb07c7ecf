using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Stocks from which the blanks of a part come in one size (or, where the part wants one stock, each stock by itself): what ties the
/// stocks of a part together.</summary>
/// <remarks>A part may use several groups at a charge for each beyond the first, or one only. O(items · stocks).</remarks>
internal sealed class SizeGroups
{
    private readonly int[][] _group;
    private readonly bool[][] _kept;
    private readonly int[] _keptSizes;

    public SizeGroups(Component component)
    {
        Charge = FussCosts.OfSize(component.Job).Units;
        _group = new int[component.Items][];
        _kept = new bool[component.Items][];
        _keptSizes = new int[component.Items];
        var stocks = component.Job.Kept.IsEmpty ? [] : component.Job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        Number = new int[component.Items];
        OnlyOne = new bool[component.Items];
        for (var i = 0; i < component.Items; i++)
        {
            var part = component.Blanks[i].Part;
            var known = new Dictionary<object, int>();
            var own = _group[i] = new int[component.Stocks.Length];
            for (var s = 0; s < own.Length; s++)
            {
                own[s] = -1;
                if (component.Fits[s, i] is { } fit)
                {
                    object key = part.OneStock ? component.Stocks[s].Stock.Id : BlankSize.Of(component.Stocks[s].Stock, fit);
                    known.TryAdd(key, known.Count);
                    own[s] = known[key];
                }
            }

            var kept = component.Job.Kept.SelectMany(layout => layout.Pieces.Where(piece => piece.PartId == part.Id)
                .Select(piece => part.OneStock ? (object)layout.StockId : BlankSize.Of(stocks[layout.StockId], piece.Area.SizeX, piece.Area.SizeY))).ToHashSet();
            _keptSizes[i] = kept.Count;
            Number[i] = known.Count;
            _kept[i] = new bool[known.Count];
            foreach (var (key, group) in known)
            {
                _kept[i][group] = kept.Contains(key);
            }
            OnlyOne[i] = part.OneStock || part.OneSize;
        }
    }

    /// <summary>What each group beyond the first costs, in money units.</summary>
    public long Charge { get; }

    /// <summary>Groups of each item.</summary>
    public int[] Number { get; }

    /// <summary>Of each item: whether just one group may be used.</summary>
    public bool[] OnlyOne { get; }

    /// <summary>Group of an item on a stock; below zero: it does not come from there.</summary>
    public int Of(int stock, int item) => _group[item][stock];

    /// <summary>Whether a layout that stays uses this group of the item: it is free.</summary>
    public bool IsKept(int item, int group) => _kept[item][group];

    /// <summary>Groups of the item that layouts which stay use, also of stock that is gone.</summary>
    public int KeptGroups(int item) => _keptSizes[item];

    /// <summary>Whether anything depends on the item's groups.</summary>
    public bool Matters(int item) => (Number[item] > 1 || _keptSizes[item] > 0) && (OnlyOne[item] || Charge > 0);

    /// <summary>The component's blanks with the fits of the groups that a plan uses; null where that leaves out nothing.</summary>
    public ImmutableArray<Blank>? Narrowed(Component component, Chosen plan)
    {
        var blanks = component.Blanks.ToArray();
        for (var i = 0; i < blanks.Length; i++)
        {
            if (!Matters(i))
            {
                continue;
            }

            var item = i;
            var used = plan.Columns.Where(entry => entry.Column.Counts[item] > 0).Select(entry => Of(entry.Column.Stock, item)).ToHashSet();
            var stocks = Enumerable.Range(0, component.Stocks.Length).Where(s => used.Contains(Of(s, item)))
                .Select(s => component.Stocks[s].Stock.Id).ToHashSet(StringComparer.Ordinal);
            blanks[i] = used.Count == 0 ? blanks[i] : blanks[i] with { Fits = [.. blanks[i].Fits.Where(fit => stocks.Contains(fit.StockId))] };
        }

        return blanks.Where((blank, i) => blank.Fits.Length < component.Blanks[i].Fits.Length).Any() ? [.. blanks] : null;
    }

    /// <summary>What the further sizes of a plan cost, in money units; null where a part comes from more groups than it may.</summary>
    public long? CostOf(Chosen plan)
    {
        long cost = 0;
        for (var i = 0; i < Number.Length; i++)
        {
            if (!Matters(i))
            {
                continue;
            }

            var item = i;
            var used = _keptSizes[i] + plan.Columns.Where(entry => entry.Column.Counts[item] > 0).Select(entry => Of(entry.Column.Stock, item))
                .Distinct().Count(group => !_kept[item][group]);
            if (used > 1 && OnlyOne[i])
            {
                return null;
            }

            cost += Charge * Math.Max(0, used - 1);
        }

        return cost;
    }
}
