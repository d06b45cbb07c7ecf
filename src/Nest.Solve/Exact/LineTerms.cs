using Google.OrTools.LinearSolver;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>What whole pieces of stock cost where each line stands by itself: breaks, smallest lines, fuss with a line, pieces bought beyond need for
/// the rack; no orders around them. As figures, and as part of a mixed integer programme.</summary>
/// <remarks>
/// Goods may count with a share only: then a line costs share · goods + fuss − what goes to the rack is worth, which is what the Lagrangian of an order's
/// smallest sum or free delivery asks for (<see cref="CaseTuning"/>). The cheapest number of further pieces is found at the ends of the price
/// tiers and where the smallest line ends, as the cost is convex between these. So a line's cost is a function of the pieces used alone; it is kept as
/// runs of equal steps, and only runs that no straight line joins need whole variables. O(pieces · tiers) a stock and share.
/// </remarks>
internal sealed class LineTerms(Job job)
{
    private const double SameStep = 1e-7;

    private readonly Dictionary<(string Stock, double Share), Table> _tables = [];

    /// <param name="Cost">Share of the goods, fuss, less what goes to the rack, in currency units, by pieces used.</param>
    /// <param name="Goods">Goods in full, in currency units, by pieces used.</param>
    /// <param name="Runs">First and last number of pieces of each run of equal steps.</param>
    private sealed record Table(double[] Cost, double[] Goods, List<(int First, int Last)> Runs);

    /// <summary>Cost of a line and the goods in it, in currency units.</summary>
    public (double Cost, double Goods) Of(LoadSource source, int count, double share)
    {
        var table = TableOf(source, share);
        return (table.Cost[count], table.Goods[count]);
    }

    /// <summary>Adds a line to the objective.</summary>
    /// <param name="count">Pieces used.</param>
    public void Add(Solver solver, LoadSource source, Variable count, double share)
    {
        var table = TableOf(source, share);
        var most = (int)count.Ub();
        var runs = table.Runs.Where(run => run.First <= most).Select(run => (run.First, Last: Math.Min(run.Last, most))).ToList();
        var objective = solver.Objective();
        if (runs.Count == 1)
        {
            objective.SetOffset(objective.Offset() + table.Cost[0]);
            objective.SetCoefficient(count, Step(table, runs[0].First, runs[0].Last));
            return;
        }

        var sum = solver.MakeConstraint(0, 0);
        sum.SetCoefficient(count, -1);
        var one = solver.MakeConstraint(1, 1);
        foreach (var (first, last) in runs)
        {
            var chosen = solver.MakeBoolVar("");
            one.SetCoefficient(chosen, 1);
            objective.SetCoefficient(chosen, table.Cost[first]);
            sum.SetCoefficient(chosen, first);
            if (last > first)
            {
                var further = solver.MakeIntVar(0, last - first, "");
                sum.SetCoefficient(further, 1);
                objective.SetCoefficient(further, Step(table, first, last));
                var within = solver.MakeConstraint(double.NegativeInfinity, 0);
                within.SetCoefficient(further, 1);
                within.SetCoefficient(chosen, first - last);
            }
        }
    }

    private static double Step(Table table, int first, int last) => last > first ? (table.Cost[last] - table.Cost[first]) / (last - first) : 0;

    private Table TableOf(LoadSource source, double share)
    {
        var key = (source.Frame.Stock.Id, share);
        if (!_tables.TryGetValue(key, out var table))
        {
            table = _tables[key] = Make(source, ExactJob.MostOf(source), share);
        }

        return table;
    }

    private Table Make(LoadSource source, int most, double share)
    {
        var stock = source.Frame.Stock;
        var (cost, goods) = (new double[most + 1], new double[most + 1]);
        if (stock.IsLeftover)
        {
            for (var n = 0; n <= most; n++)
            {
                cost[n] = n * (source.Price / Grain.PerCurrency);
            }

            return new(cost, goods, [(0, most)]);
        }

        var whole = OrderTerms.Whole(job, source.Frame);
        var mayKeep = stock.CutFor is null && whole.Keep;
        var worth = mayKeep ? Grain.Amount(whole.Value) : 0;
        var bought = Math.Min(
            mayKeep ? most + OrderTerms.MoreThanNeeded(stock, job.SupplierOf(stock.Supplier ?? "") ?? new() { Name = stock.Supplier ?? "" }) : most, stock.Available ?? int.MaxValue);
        var corners = Corners(stock.Terms, stock.PiecePrice, bought);
        var fuss = Grain.Amount(FussCosts.OfLine(job));
        for (var n = 0; n <= most; n++)
        {
            var least = double.PositiveInfinity;
            foreach (var some in corners.Where(corner => mayKeep && corner > n && corner <= bought).Append(n))
            {
                var line = Grain.Amount(stock.Terms.LineCost(stock.PiecePrice, some));
                var total = (share * line) + (some > 0 ? fuss : 0) - (worth * (some - n));
                if (total < least)
                {
                    (least, cost[n], goods[n]) = (total, total, line);
                }
            }
        }

        return new(cost, goods, Runs(cost));
    }

    /// <summary>Numbers of pieces at which a line's cost may bend: both sides of breaks and of the end of the smallest line, and the most there can be.</summary>
    private static List<int> Corners(PriceTerms terms, Money price, int most)
    {
        var corners = new SortedSet<int> { 1, most };
        int[] starts = [1, .. terms.Breaks.Select(step => step.From), most + 1];
        for (var t = 0; t + 1 < starts.Length; t++)
        {
            corners.Add(starts[t]);
            corners.Add(starts[t + 1] - 1);

            // Within a tier goods only grow.
            var (low, high) = (starts[t], starts[t + 1]);
            while (low < high)
            {
                var middle = low + ((high - low) / 2);
                (low, high) = terms.LineCost(price, middle) > terms.LineMinimum ? (low, middle) : (middle + 1, high);
            }

            corners.Add(low);
            corners.Add(low - 1);
        }

        return [.. corners.Where(corner => corner >= 1 && corner <= most)];
    }

    private static List<(int First, int Last)> Runs(double[] cost)
    {
        var runs = new List<(int First, int Last)>();
        for (var first = 0; first < cost.Length;)
        {
            var last = first;
            while (last + 1 < cost.Length && (last == first || Math.Abs(cost[last + 1] - cost[last] - (cost[first + 1] - cost[first])) < SameStep))
            {
                last++;
            }

            // A single step before a longer run belongs to that.
            if (last == first + 1 && last + 2 < cost.Length && Math.Abs(cost[last + 2] - cost[last + 1] - (cost[last + 1] - cost[last])) < SameStep)
            {
                last = first;
            }

            runs.Add((first, last));
            first = last + 1;
        }

        return runs;
    }
}
