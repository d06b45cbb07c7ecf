using System.Collections.Immutable;
using System.Globalization;

namespace Nest.Solve.Bars;

/// <summary>A bar problem in the form that the algorithms work on.</summary>
/// <remarks>
/// Kerf: n pieces need n lengths and n−1 kerfs, so with the weight w = length + kerf a layout fits exactly when Σ w ≤ L + kerf
/// (equivalent, not an approximation). Weights and capacities are divided by the weights' common divisor.
/// Kinds with the same length and the same extra costs are one type here; types are in falling order of length.
/// Exact demand is enough: taking a surplus piece out of a layout never makes it dearer (its metal joins the leftover, the leftover's
/// value is monotone, extra costs are not negative) and never breaks the holding rule (a removed long piece leaves a leftover at
/// least as long), and a bar that becomes empty is left whole.
/// </remarks>
internal sealed class BarModel
{
    public BarProblem Problem { get; }

    /// <summary>Number of types (merged kinds of piece).</summary>
    public int Types { get; }

    /// <summary>Number of stocks.</summary>
    public int Stocks { get; }

    /// <summary>Divisor of all weights.</summary>
    public long Unit { get; }

    public long[] Weight { get; }
    public long[] Length { get; }
    public int[] Demand { get; }

    /// <summary>Indices of the problem's items that make up a type.</summary>
    public int[][] Members { get; }

    public long[] Capacity { get; }

    /// <summary>Groups of stocks whose kept leftovers are counted together (see <see cref="KeepGroups"/>).</summary>
    public int Groups { get; }

    /// <summary>What a plan counts: bars of each stock, then bars with a kept leftover of each group.</summary>
    public int Ranges => Stocks + Groups;

    /// <summary>Group of each stock, or -1 where a leftover's value has no jump.</summary>
    public int[] GroupOf { get; }

    /// <summary>Largest scaled weight of pieces behind which the leftover is worth keeping (stocks of a group only).</summary>
    public long[] KeptCapacity { get; }

    /// <summary>Largest number of each range in a plan: a stock's limit, at most one bar per piece.</summary>
    public int[] MostBars { get; }

    /// <summary>Most copies of a type in one layout of a stock; 0: not on this stock.</summary>
    public int[][] MostCopies { get; }

    public int[] MostPieces { get; }

    /// <summary>Divisor of every layout's cost; 1 when nothing better is known.</summary>
    public long Granularity { get; }

    /// <summary>By how much a plan must be cheaper than the best to matter: at least the granularity.</summary>
    public long Step { get; }

    /// <summary>Whether layouts of one stock may differ in cost.</summary>
    public bool PlainCost { get; }

    public int Pieces { get; }

    public BarModel(BarProblem problem, bool merge = true)
    {
        Check(problem);
        Problem = problem;
        Stocks = problem.Stocks.Length;
        Members = Enumerable.Range(0, problem.Items.Length)
            .GroupBy(i => (problem.Items[i].Length, merge ? ExtraKey(problem, i) : i.ToString(CultureInfo.InvariantCulture)))
            .OrderByDescending(g => g.Key.Length).ThenBy(g => g.Min())
            .Select(g => g.Order().ToArray())
            .ToArray();
        Types = Members.Length;
        Length = [.. Members.Select(m => problem.Items[m[0]].Length)];
        Demand = [.. Members.Select(m => m.Sum(i => problem.Items[i].Demand))];
        Pieces = Demand.Sum();
        long unit = 0;
        foreach (long length in Length)
        {
            unit = WholeNumbers.Divisor(unit, length + problem.Kerf);
        }

        Unit = Math.Max(1, unit);
        Weight = [.. Length.Select(l => (l + problem.Kerf) / Unit)];
        Capacity = [.. problem.Stocks.Select(s => (s.Length + problem.Kerf) / Unit)];
        (GroupOf, KeptCapacity, Groups) = KeepGroups.Of(this);
        int[] bars = [.. problem.Stocks.Select(s => Math.Min(s.Limit ?? int.MaxValue, Pieces))];
        MostBars = [.. bars, .. Enumerable.Range(0, Groups).Select(g => Math.Min(Pieces, bars.Where((_, s) => GroupOf[s] == g).Sum(b => (long)b)))
            .Select(b => (int)b)];
        MostCopies = new int[Stocks][];
        MostPieces = new int[Stocks];
        for (int s = 0; s < Stocks; s++)
        {
            MostCopies[s] = new int[Types];
            int most = problem.Stocks[s].MostPieces ?? int.MaxValue;
            for (int i = 0; i < Types; i++)
            {
                bool allowed = MostBars[s] > 0 && PieceCost(s, i) != BarProblem.Forbidden;
                MostCopies[s][i] = allowed ? (int)Math.Min(Math.Min(Demand[i], most), Capacity[s] / Weight[i]) : 0;
            }

            // A limit that the lengths imply anyway is no limit.
            MostPieces[s] = most >= LargestCount(s) ? int.MaxValue : most;
        }

        PlainCost = problem.PieceCost is null && problem.Stocks.All(s => s.Leftover.KeepNumerator == 0 && s.Leftover.ScrapNumerator == 0);
        long granularity = 0;
        if (PlainCost)
        {
            foreach (BarStock stock in problem.Stocks)
            {
                granularity = WholeNumbers.Divisor(granularity, stock.Cost);
            }
        }

        Granularity = Math.Max(1, granularity);
        Step = Math.Max(Granularity, problem.Enough);
    }

    public BarStock Stock(int s) => Problem.Stocks[s];

    public long PieceCost(int s, int type) => Problem.PieceCost is { } extra ? extra[s, Members[type][0]] : 0;

    /// <summary>Group in which a layout with this scaled weight counts as a bar with a kept leftover, or -1.</summary>
    public int KeptGroup(int s, long used) => GroupOf[s] >= 0 && used <= KeptCapacity[s] ? GroupOf[s] : -1;

    /// <summary>Leftover behind pieces of this scaled weight in all; 0 when the last piece ends within a kerf of the bar's end.</summary>
    public long LeftoverLength(int s, long used) => Math.Max(0, Stock(s).Length - (used * Unit));

    /// <summary>Value of that leftover.</summary>
    public long LeftoverValue(int s, long used) => Stock(s).Leftover.Of(LeftoverLength(s, used));

    /// <summary>Cheapest conceivable layout of a stock (the bar's price less the value of the whole bar).</summary>
    public long LeastCost(int s) => Math.Max(0, Stock(s).Cost - Stock(s).Leftover.Of(Stock(s).Length));

    /// <summary>Smallest multiple of the granularity not below the value.</summary>
    public long RoundUp(Int128 value)
    {
        Int128 g = Granularity;
        Int128 q = value / g;
        if (q * g < value)
        {
            q++;
        }

        return (long)(q * g);
    }

    private int LargestCount(int s)
    {
        long left = Capacity[s];
        long count = 0;
        for (int i = Types - 1; i >= 0 && left > 0; i--)
        {
            if (MostCopies[s][i] > 0)
            {
                long n = Math.Min(Demand[i], left / Weight[i]);
                count += n;
                left -= n * Weight[i];
            }
        }

        return (int)count;
    }

    private static string ExtraKey(BarProblem problem, int item) => problem.PieceCost is not { } extra
        ? string.Empty
        : string.Join(',', Enumerable.Range(0, problem.Stocks.Length).Select(s => extra[s, item]));

    private static void Check(BarProblem problem)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(problem.Kerf);
        ArgumentOutOfRangeException.ThrowIfLessThan(problem.Enough, 1);
        if (problem.Stocks.IsDefaultOrEmpty || problem.Items.IsDefault)
        {
            throw new ArgumentException("A bar problem needs at least one stock and a list of items.", nameof(problem));
        }

        foreach (BarStock s in problem.Stocks)
        {
            if (s.Length < 0 || s.Cost < 0 || s.Limit < 0 || s.ShortestHeld < 0 || s.MostPieces < 0 || s.Leftover.Of(s.Length) > s.Cost)
            {
                throw new ArgumentException(
                    "A stock's figures must not be negative, nor its leftover worth more than the bar.", nameof(problem));
            }
        }

        if (problem.Items.Any(i => i.Length <= 0 || i.Demand <= 0))
        {
            throw new ArgumentException("Lengths and demands must be above zero.", nameof(problem));
        }

        if (problem.PieceCost is { } extra)
        {
            if (extra.GetLength(0) != problem.Stocks.Length || extra.GetLength(1) != problem.Items.Length || extra.Cast<long>().Any(v => v < 0))
            {
                throw new ArgumentException("Extra costs: one row per stock, one column per item, never negative.", nameof(problem));
            }
        }
    }
}
