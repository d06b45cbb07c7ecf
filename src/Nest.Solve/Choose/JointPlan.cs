using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The best plan of a job with purchase terms: a choice for each component, and whole pieces bought for the rack.</summary>
/// <remarks>Costs are those of <see cref="Purchasing"/>, exact. Columns carry the listed price of a piece as metal.</remarks>
internal sealed class JointPlan(Job job, ImmutableArray<Component> components)
{
    /// <summary>The choice of each component; null: none yet.</summary>
    public Chosen?[] Parts { get; private set; } = new Chosen?[components.Length];

    public ImmutableArray<(StockFrame Frame, int Count)> Extras { get; private set; } = [];

    /// <summary>With all terms and fuss, without settings; null: no plan yet.</summary>
    public Money? Cost { get; private set; }

    /// <summary>Layouts of a plan up to which it is looked at where the stop still stands: with more it matters little which plan is taken.</summary>
    private const int MostInOrder = 12;

    /// <summary>What setting fence and stop costs, once per layout, less what is carried over where the layouts are few.</summary>
    public Money SetUps { get; private set; }

    public ImmutableArray<Order> Orders { get; private set; } = [];

    /// <summary>Pieces that are left out.</summary>
    public int Missing => Parts.Sum(part => part?.MissingCount ?? 0);

    /// <summary>Per component how often each column, by key, is used; null: no plan yet.</summary>
    public ImmutableArray<Dictionary<string, int>>? Hint => Cost is null
        ? null
        : [.. Parts.Select(part => part!.Columns.GroupBy(entry => entry.Column.Key)
            .ToDictionary(group => group.Key, group => group.Sum(entry => entry.Count), StringComparer.Ordinal))];

    /// <summary>Keeps the plan when it obeys the rules for parts, leaves no more pieces out and is cheaper with all terms and settings.</summary>
    public bool Offer(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        var orders = OrdersOf(plan, extras);
        if (orders.Length > job.MostSuppliers)
        {
            return false;
        }

        long sizes = 0;
        for (var c = 0; c < plan.Length; c++)
        {
            if (components[c].Sizes.CostOf(plan[c]) is not { } own)
            {
                return false;
            }

            sizes += own;
        }

        var missing = plan.Sum(chosen => chosen.MissingCount);
        var cost = CostOf(plan, extras, orders) + Money.FromUnits(sizes);
        var setUps = SetUpsOf(plan);
        if (Cost is { } best && (missing > Missing || (missing == Missing && cost + setUps >= best + SetUps)))
        {
            return false;
        }

        (Parts, Extras, Cost, SetUps, Orders) = ([.. plan], extras, cost, setUps, orders);
        return true;
    }

    private Money SetUpsOf(ImmutableArray<Chosen> plan)
    {
        var setUps = Money.FromUnits(plan.Select((chosen, c) => chosen.SetUps(components[c])).Sum());
        return setUps == Money.Zero || plan.Sum(chosen => chosen.Columns.Length) > MostInOrder ? setUps : setUps - StopOrder.Of(job, plan.SelectMany(chosen => chosen.Columns)).Carried;
    }

    private Money CostOf(
        ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras, ImmutableArray<Order> orders)
    {
        var cost = Money.FromUnits(plan.Sum(chosen => chosen.Cost));
        foreach (var (frame, count) in extras)
        {
            cost += (frame.Stock.PiecePrice - OrderTerms.Whole(job, frame).Value) * count;
        }

        return cost + Purchasing.Terms(orders) + FussCosts.OfOrders(job, orders);
    }

    private ImmutableArray<Order> OrdersOf(ImmutableArray<Chosen> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        var counts = KeptLayouts.Stocks(job.Kept);
        foreach (var (column, count) in plan.SelectMany(chosen => chosen.Columns))
        {
            counts[column.Layout.StockId] = counts.GetValueOrDefault(column.Layout.StockId) + count;
        }

        foreach (var (frame, count) in extras)
        {
            counts[frame.Stock.Id] = counts.GetValueOrDefault(frame.Stock.Id) + count;
        }

        return Purchasing.Orders(job, counts);
    }
}
