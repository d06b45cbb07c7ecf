using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A way of buying under which components can be solved apart: which suppliers are open, and at which price per piece.</summary>
/// <param name="Suppliers">Suppliers that may be used (upper case).</param>
/// <param name="Lowest">At the lowest price that breaks give, else at the price of one piece.</param>
internal sealed record Scenario(ImmutableHashSet<string> Suppliers, bool Lowest)
{
    /// <summary>The job with plain prices; stock of closed suppliers has none available.</summary>
    public Job Apply(Job job) => job with
    {
        Stocks = [.. job.Stocks.Select(stock => stock.IsLeftover ? stock : Apply(stock))],
    };

    /// <summary>The job with every supplier open and plain prices, the lowest that breaks give.</summary>
    public static Job AllAtLowest(Job job) =>
        new Scenario([.. job.Stocks.Where(stock => !stock.IsLeftover).Select(Key)], true).Apply(job);

    private Stock Apply(Stock stock) => stock with
    {
        Available = Suppliers.Contains(Key(stock)) ? stock.Available : 0,
        PiecePrice = Lowest ? stock.Terms.LowestPrice(stock.PiecePrice) : stock.PiecePrice,
    };

    public static string Key(Stock stock) => (stock.Supplier ?? "").ToUpperInvariant();

    /// <summary>Up to so many suppliers, every set of them is solved.</summary>
    public const int MostForSets = 4;

    /// <summary>The scenarios worth solving: all suppliers, and every subset when there are at most four, none larger than the shop
    /// allows; at listed and, where breaks exist, at lowest prices.</summary>
    public static ImmutableArray<Scenario> Of(Job job, IEnumerable<Stock> stocks)
    {
        var bought = stocks.Where(stock => !stock.IsLeftover).ToList();
        var names = bought.Select(Key).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        var breaks = bought.Any(stock => !stock.Terms.Breaks.IsEmpty);
        var most = Math.Min(names.Length, job.MostSuppliers ?? names.Length);
        var sets = new List<ImmutableHashSet<string>>();
        if (names.Length <= MostForSets)
        {
            // Larger sets first: the plan with every supplier open is the one most likely needed.
            sets.AddRange(Enumerable.Range(0, 1 << names.Length)
                .Select(bits => names.Where((_, k) => (bits & (1 << k)) != 0).ToImmutableHashSet(StringComparer.Ordinal))
                .Where(set => set.Count <= most)
                .OrderByDescending(set => set.Count));
        }
        else
        {
            sets.Add([.. names]);
            sets.AddRange(names.Select(name => ImmutableHashSet.Create(StringComparer.Ordinal, name)));
        }

        return [.. sets.SelectMany(set => breaks ? new[] { new Scenario(set, false), new Scenario(set, true) } : [new Scenario(set, true)])];
    }

    /// <summary>Least that using all these suppliers adds to the listed goods: deliveries that no threshold waives, and the fuss with a supplier and
    /// a line each.</summary>
    public Money LeastTerms(Job job) => job.Suppliers
        .Where(supplier => Suppliers.Contains(supplier.Name.ToUpperInvariant()) && supplier.FreeDeliveryFrom is null)
        .Aggregate((FussCosts.OfSupplier(job) + FussCosts.OfLine(job)) * Suppliers.Count, (sum, supplier) => sum + supplier.Delivery);

    /// <summary>The job at the prices that a plan has reached: what its suppliers sell, each stock at the price of one piece more than
    /// is ordered; nothing from other suppliers.</summary>
    public static Job AtPricesOf(Job job, ImmutableArray<Order> orders)
    {
        var counts = orders.SelectMany(order => order.Lines).ToDictionary(line => line.StockId, line => line.Count, StringComparer.Ordinal);
        var open = orders.Select(order => order.Supplier.ToUpperInvariant()).ToHashSet(StringComparer.Ordinal);
        return job with
        {
            Stocks = [.. job.Stocks.Select(stock => stock.IsLeftover ? stock : stock with
            {
                Available = open.Contains(Key(stock)) ? stock.Available : 0,
                PiecePrice = stock.Terms.Breaks.Where(step => step.From <= counts.GetValueOrDefault(stock.Id) + 1)
                    .Aggregate(stock.PiecePrice, (price, step) => Money.Min(price, step.PiecePrice)),
            })],
        };
    }
}
