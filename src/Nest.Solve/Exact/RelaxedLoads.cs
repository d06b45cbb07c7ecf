using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>A stock of which only a bound is known: free layouts, and plates too large for a table. Costs are the linear ones of
/// <see cref="LowerCosts"/>, which lie below every layout's cost.</summary>
internal sealed class RelaxedLoads(BlankKinds kinds, int component, int stock, int number) : LoadSource(kinds, component, stock, number)
{
    private readonly IStockPricer _pricer = StockPricers.For(kinds.Component, stock);

    public override bool CanList => false;

    public const double UsualSteps = 30_000_000;

    public override double Steps => UsualSteps;

    public override long EmptyCost => (Kinds.Component.LowerCosts.Stock[StockIndex] - Frame.Stock.PiecePrice.Units) * Grain.PerUnit;

    public override long Best(ReadOnlySpan<int> values, out Load? load)
    {
        const int PerGrain = (int)(IStockPricer.Scale / Grain.PerUnit);
        var own = new long[Kinds.Component.Items];
        for (var i = 0; i < own.Length; i++)
        {
            own[i] = (long)values[Kinds.Of[i]] * PerGrain;
        }

        var (columns, upper) = _pricer.Price(own, 1);
        var price = Frame.Stock.PiecePrice.Units;
        load = columns.IsEmpty || columns[0].Counts.All(n => n == 0)
            ? null
            : new(Number, [.. Kinds.CountsOf(columns[0].Counts.AsSpan())], (columns[0].LowerCost - price) * Grain.PerUnit, null, false);
        return ((upper + PerGrain - 1) / PerGrain) - ((Kinds.Component.LowerCosts.Stock[StockIndex] - price) * Grain.PerUnit);
    }

    public override List<Load>? Within(ReadOnlySpan<int> values, long gap, ListLimits limits, out long joins)
    {
        joins = 0;
        return null;
    }
}
