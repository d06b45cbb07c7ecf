using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What a plan costs the shop beside metal and machines; three lines of its cost.</summary>
/// <remarks>Loading is part of the layouts' saw cost. Orders: lines × price of a line + suppliers × price of a supplier. Further sizes: of each
/// part the different sizes of its blanks (<see cref="BlankSize"/>) less one, × minutes × the mill's rate. Each price is rounded once.
/// O(pieces).</remarks>
/// <param name="Loading">Fetching, loading and labelling the pieces of stock that are cut.</param>
/// <param name="Orders">Lines and suppliers.</param>
/// <param name="Sizes">By part: what its further sizes cost; parts of one size are left out.</param>
public sealed record FussCosts(Money Loading, Money Orders, ImmutableSortedDictionary<string, Money> Sizes)
{
    public Money FurtherSizes => Sizes.Values.Aggregate(Money.Zero, (sum, one) => sum + one);

    /// <summary>What comes on top of the layouts.</summary>
    public Money Total => Orders + FurtherSizes;

    /// <summary>Price of a line of an order.</summary>
    public static Money OfLine(Job job) => Money.FromAmount(job.Fuss.OrderLineMinutes * job.Fuss.HourlyRate / 60m);

    /// <summary>Price of a supplier.</summary>
    public static Money OfSupplier(Job job) => Money.FromAmount(job.Fuss.SupplierMinutes * job.Fuss.HourlyRate / 60m);

    /// <summary>Price of a further size of a part.</summary>
    public static Money OfSize(Job job) => Money.FromAmount(job.Fuss.FurtherSizeMinutes * job.Mill.HourlyRate / 60m);

    /// <summary>What the orders cost beside what is paid for them.</summary>
    public static Money OfOrders(Job job, ImmutableArray<Order> orders) =>
        (OfSupplier(job) * orders.Length) + (OfLine(job) * orders.Sum(order => order.Lines.Length));

    public static FussCosts Of(Job job, ImmutableArray<Layout> layouts)
    {
        var stocks = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);
        var saws = job.Saws.ToDictionary(saw => saw.Id, StringComparer.Ordinal);
        var loading = Money.Zero;
        var sizes = new Dictionary<string, HashSet<BlankSize>>(StringComparer.Ordinal);
        foreach (var layout in layouts.Where(layout => !layout.Pieces.IsEmpty))
        {
            loading += saws.TryGetValue(layout.SawId, out var saw) ? CostModel.Loading(saw) * layout.Count : Money.Zero;
            foreach (var piece in layout.Pieces)
            {
                if (!sizes.TryGetValue(piece.PartId, out var own))
                {
                    sizes.Add(piece.PartId, own = []);
                }

                own.Add(BlankSize.Of(stocks[layout.StockId], piece));
            }
        }

        var price = OfSize(job);
        return new(
            loading, OfOrders(job, Purchasing.Orders(job, layouts)),
            sizes.Where(entry => entry.Value.Count > 1).ToImmutableSortedDictionary(
                entry => entry.Key, entry => price * (entry.Value.Count - 1), StringComparer.Ordinal));
    }
}
