using System.Collections.Immutable;
using Google.OrTools.LinearSolver;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>What whole pieces of stock cost, as part of a mixed integer programme: the price of their source, or exactly what <see cref="Purchasing"/> makes of
/// price breaks, smallest lines and orders, delivery and the number of suppliers.</summary>
/// <remarks>The same terms as <see cref="OrderTerms"/>, for the linear solver. Goods are equal to the sum of their lines, not at least it: else
/// paying more would buy free delivery.</remarks>
internal sealed class WholeTerms
{
    private readonly ExactJob _job;
    private readonly Solver _solver;
    private readonly Variable[] _counts;
    private readonly List<(Variable Extra, StockFrame Frame)> _extras = [];

    /// <param name="counts">Pieces used, by source.</param>
    public WholeTerms(ExactJob job, Solver solver, Variable[] counts)
    {
        (_job, _solver, _counts) = (job, solver, counts);
        if (!job.IsTied)
        {
            foreach (var source in job.Sources)
            {
                solver.Objective().SetCoefficient(counts[source.Number], source.Price / Grain.PerCurrency);
            }

            return;
        }

        var suppliers = new List<Variable>();
        foreach (var group in job.Sources.GroupBy(source => source.Frame.Stock.IsLeftover ? null : source.Frame.Stock.Supplier ?? "", StringComparer.OrdinalIgnoreCase))
        {
            if (group.Key is null)
            {
                foreach (var source in group)
                {
                    solver.Objective().SetCoefficient(counts[source.Number], Grain.Amount(source.Frame.Stock.PiecePrice));
                }
            }
            else
            {
                suppliers.Add(OrderFrom(job.Job.SupplierOf(group.Key) ?? new() { Name = group.Key }, [.. group]));
            }
        }

        if (job.Job.MostSuppliers is { } most)
        {
            var row = solver.MakeConstraint(double.NegativeInfinity, most);
            foreach (var supplier in suppliers)
            {
                row.SetCoefficient(supplier, 1);
            }
        }
    }

    /// <summary>Whole pieces bought for the rack in the solution.</summary>
    public ImmutableArray<(StockFrame Frame, int Count)> Extras() =>
        [.. _extras.Select(entry => (entry.Frame, Count: (int)Math.Round(entry.Extra.SolutionValue()))).Where(entry => entry.Count > 0)];


    private Variable OrderFrom(Supplier supplier, ImmutableArray<LoadSource> sources)
    {
        var orders = _solver.MakeBoolVar("");
        var mostGoods = 0.0;
        var goods = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        var sum = _solver.MakeConstraint(0, 0);
        sum.SetCoefficient(goods, -1);
        foreach (var source in sources)
        {
            var (line, most) = Line(source, supplier, orders);
            sum.SetCoefficient(line, 1);
            mostGoods += most;
        }

        var objective = _solver.Objective();
        objective.SetCoefficient(orders, Grain.Amount(FussCosts.OfSupplier(_job.Job)));
        if (supplier.MinimumOrder > Money.Zero)
        {
            var charged = _solver.MakeNumVar(0, double.PositiveInfinity, "");
            Rows.AtLeast(_solver, charged, goods, 1);
            Rows.AtLeast(_solver, charged, orders, Grain.Amount(supplier.MinimumOrder));
            objective.SetCoefficient(charged, 1);
        }
        else
        {
            objective.SetCoefficient(goods, 1);
        }

        if (supplier.Delivery == Money.Zero || supplier.FreeDeliveryFrom <= supplier.MinimumOrder)
        {
            return orders;
        }

        if (supplier.FreeDeliveryFrom is not { } threshold)
        {
            objective.SetCoefficient(orders, Grain.Amount(supplier.Delivery + FussCosts.OfSupplier(_job.Job)));
            return orders;
        }

        var pays = _solver.MakeBoolVar("");
        objective.SetCoefficient(pays, Grain.Amount(supplier.Delivery));
        if (mostGoods < Grain.Amount(threshold))
        {
            Rows.AtLeast(_solver, pays, orders, 1);
            return orders;
        }

        var free = _solver.MakeBoolVar("");
        var one = _solver.MakeConstraint(0, double.PositiveInfinity);
        one.SetCoefficient(pays, 1);
        one.SetCoefficient(free, 1);
        one.SetCoefficient(orders, -1);
        Rows.AtLeast(_solver, goods, free, Grain.Amount(threshold));
        return orders;
    }

    private (Variable Line, double Most) Line(LoadSource source, Supplier supplier, Variable orders)
    {
        var stock = source.Frame.Stock;
        var whole = OrderTerms.Whole(_job.Job, source.Frame);
        var mayKeep = stock.CutFor is null && whole.Keep;
        var most = (int)_counts[source.Number].Ub();
        most = Math.Min(mayKeep ? most + OrderTerms.MoreThanNeeded(stock, supplier) : most, stock.Available ?? int.MaxValue);
        var pieces = _solver.MakeConstraint(0, 0);
        pieces.SetCoefficient(_counts[source.Number], -1);
        if (mayKeep)
        {
            var extra = _solver.MakeIntVar(0, most, "");
            _extras.Add((extra, source.Frame));
            _solver.Objective().SetCoefficient(extra, -Grain.Amount(whole.Value));
            pieces.SetCoefficient(extra, -1);
        }

        // One tier is chosen when anything is bought; within it the cost is constant + price × pieces.
        var bare = stock.Terms with { LineMinimum = Money.Zero };
        var bounds = stock.Terms.Breaks.Select(step => step.From).Prepend(1).ToArray();
        var cost = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        var costs = _solver.MakeConstraint(0, 0);
        costs.SetCoefficient(cost, -1);
        var one = _solver.MakeConstraint(0, 1);
        var tiers = new List<Variable>();
        var mostLine = Grain.Amount(stock.Terms.LineMinimum);
        for (var t = 0; t < bounds.Length; t++)
        {
            var last = Math.Min(most, t + 1 < bounds.Length ? bounds[t + 1] - 1 : most);
            if (bounds[t] > last)
            {
                continue;
            }

            var tier = _solver.MakeBoolVar("");
            var count = _solver.MakeIntVar(0, last, "");
            Rows.AtLeast(_solver, count, tier, bounds[t]);
            var top = _solver.MakeConstraint(0, double.PositiveInfinity);
            top.SetCoefficient(tier, last);
            top.SetCoefficient(count, -1);
            Rows.AtLeast(_solver, orders, tier, 1);
            var price = t == 0 ? stock.PiecePrice : stock.Terms.Breaks[t - 1].PiecePrice;
            costs.SetCoefficient(count, Grain.Amount(price));
            costs.SetCoefficient(tier, Grain.Amount(bare.LineCost(stock.PiecePrice, bounds[t]) - (price * bounds[t])));
            pieces.SetCoefficient(count, 1);
            one.SetCoefficient(tier, 1);
            _solver.Objective().SetCoefficient(tier, Grain.Amount(FussCosts.OfLine(_job.Job)));
            tiers.Add(tier);
            mostLine = Math.Max(mostLine, Grain.Amount(bare.LineCost(stock.PiecePrice, last)));
        }

        return stock.Terms.LineMinimum == Money.Zero ? (cost, mostLine) : (AtLeastMinimum(cost, tiers, Grain.Amount(stock.Terms.LineMinimum), mostLine), mostLine);
    }

    /// <summary>max(cost, minimum) where anything is bought, exactly.</summary>
    private Variable AtLeastMinimum(Variable cost, List<Variable> tiers, double minimum, double most)
    {
        var line = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        var small = _solver.MakeBoolVar("");
        Rows.AtLeast(_solver, line, cost, 1);
        var least = _solver.MakeConstraint(0, double.PositiveInfinity);
        least.SetCoefficient(line, 1);
        foreach (var tier in tiers)
        {
            least.SetCoefficient(tier, -minimum);
        }

        var own = _solver.MakeConstraint(double.NegativeInfinity, 0);
        own.SetCoefficient(line, 1);
        own.SetCoefficient(cost, -1);
        own.SetCoefficient(small, -minimum);
        var top = _solver.MakeConstraint(double.NegativeInfinity, minimum + most);
        top.SetCoefficient(line, 1);
        top.SetCoefficient(small, most);
        return line;
    }
}
