using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Gangs;

/// <summary>What <see cref="GangBound"/> counts on top because stock comes in whole pieces: of some stock that a blank comes from, one piece is paid whole.</summary>
/// <remarks>
/// Let F_s + Σ f_si a_i be the linear cost below every layout on stock s, and π the values of <see cref="SizeBound"/>, so that no layout costs less than Σ π_i a_i. A plan that cuts just d has a
/// layout with blank i, on a stock s that serves it. It costs at least F_s + Σ f_sj a_j ≥ Σ π_j a_j + F_s − Σ max(0, π_j − f_sj) a_j, where a_j ≤ d_j; all others cost at least their values. So
/// the plan costs at least Σ π_j d_j + min_s (F_s − Σ_j max(0, π_j − f_sj) d_j), for each blank i; the highest of these counts, if it is above zero. It is worth something while all that is asked
/// fits a piece or two. Guarantee: bound; whole numbers only. O(blanks · stocks) a choice.
/// </remarks>
internal sealed class FirstPiece
{
    private readonly Component _component;
    private readonly ImmutableArray<(int Group, int Option)> _owners;
    private readonly long[] _fixed;
    private readonly Int128[,] _shares;

    /// <param name="values">π of each blank, less what roundings may owe for a piece.</param>
    /// <param name="owners">The group and option of each blank; group −1: it is cut in every choice.</param>
    public FirstPiece(Component component, Int128[] values, ImmutableArray<(int Group, int Option)> owners)
    {
        (_component, _owners) = (component, owners);
        var roundings = component.LowerCosts.Roundings([1]).Units;
        _fixed = new long[component.Stocks.Length];
        _shares = new Int128[_fixed.Length, component.Items];
        for (var s = 0; s < _fixed.Length; s++)
        {
            var (perStock, perPiece) = StockSize.LeftoverRate(component, s);
            _fixed[s] = component.LowerCosts.Stock[s] - perStock;
            for (var i = 0; i < component.Items; i++)
            {
                if (Serves(s, i))
                {
                    _shares[s, i] = Int128.Max(0, values[i] + roundings - component.LowerCosts.Piece[s, i] - perPiece(i)) * component.Blanks[i].Demand;
                }
            }
        }
    }

    /// <summary>In money units, at least 0, for every choice.</summary>
    public Int128 Least
    {
        get
        {
            var fills = Enumerable.Range(0, _fixed.Length).Select(s => Enumerable.Range(0, _component.Items).GroupBy(i => _owners[i]).Select(option => (option.Key, Sum: Sum(s, option)))
                .GroupBy(option => option.Key.Group).Aggregate((Int128)0, (sum, group) => sum + group.Max(option => option.Sum))).ToArray();
            return Most(Enumerable.Range(0, _component.Items).Where(i => _owners[i].Group < 0), fills);
        }
    }

    /// <summary>In money units, at least 0, for one choice.</summary>
    /// <param name="choice">The option of each group.</param>
    public Int128 Of(IReadOnlyList<int> choice)
    {
        var taken = Enumerable.Range(0, _component.Items).Where(i => _owners[i] is var (group, option) && (group < 0 || choice[group] == option)).ToList();
        return Most(taken, [.. Enumerable.Range(0, _fixed.Length).Select(s => Sum(s, taken))]);
    }

    private Int128 Sum(int stock, IEnumerable<int> blanks) => blanks.Aggregate((Int128)0, (sum, i) => sum + _shares[stock, i]);

    private Int128 Most(IEnumerable<int> blanks, Int128[] fills) => blanks.Aggregate((Int128)0, (most, i) =>
        Int128.Max(most, Enumerable.Range(0, fills.Length).Where(s => Serves(s, i)).Select(s => _fixed[s] - fills[s]).DefaultIfEmpty(0).Min()));

    private bool Serves(int stock, int blank) => _component.Fits[stock, blank] is not null && _component.Stocks[stock].Stock.Available != 0;
}
