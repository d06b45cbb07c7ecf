using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>The plan's cost and metal, sorted for people: by part, by what to buy, by where the metal goes. Pure.</summary>
public static class CostSheet
{
    /// <summary>Σ count × layout cost + what the orders cost beyond listed prices + settings, less those carried over, + fuss.</summary>
    public static Money Total(Job job, ImmutableArray<Layout> layouts)
    {
        var total = Purchasing.Terms(Purchasing.Orders(job, layouts)) + SettingCosts.Of(job, layouts).Total + FussCosts.Of(job, layouts).Total;
        foreach (var layout in layouts)
        {
            total += layout.Cost.Total * layout.Count;
        }

        return total;
    }

    /// <summary>What each part bears, in the job's order, parts without a placed piece left out; adds up to <see cref="Total"/> exactly.</summary>
    /// <remarks>Two amounts of each layout are shared by the area of its blanks: its metal less credits, over all stock pieces cut so; and its saw
    /// cost over all of them with its settings, less the one carried over into it. Shares are by largest remainder: every part gets its share
    /// rounded down; the units left over go one by one to the largest remainders, ties to the part that comes first in the job. Facing goes to
    /// its own part, and further sizes of its blanks with it. What the orders cost beyond listed prices, the fuss with them, and what pieces bought whole for the rack cost less their value, is metal as well: it is shared in proportion to the
    /// listed price of the bought stock that each part is cut from (where all of that is free, by pieces).</remarks>
    public static ImmutableArray<PartCost> PartCosts(Job job, ImmutableArray<Blank> blanks, ImmutableArray<Layout> layouts)
    {
        var order = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var part in job.Parts)
        {
            order.TryAdd(part.Id, order.Count);
        }

        var costs = job.Parts.Select(part => new PartCost(part.Id, 0, Money.Zero, Money.Zero, Money.Zero)).ToArray();
        var facing = blanks
            .SelectMany(blank => blank.Fits.Select(fit => (Key: (blank.Part.Id, fit.StockId), fit.ExtraCost)))
            .ToDictionary(pair => pair.Key, pair => pair.ExtraCost);
        var listed = new Int128[costs.Length];
        var fuss = FussCosts.Of(job, layouts);
        var common = Purchasing.Terms(Purchasing.Orders(job, layouts)) + fuss.Orders;
        var settings = SettingCosts.Of(job, layouts).Lines;
        for (var at = 0; at < layouts.Length; at++)
        {
            var layout = layouts[at];
            if (layout.Pieces.IsEmpty)
            {
                common += layout.Cost.Total * layout.Count;
                continue;
            }

            var stock = job.Stocks.First(stock => stock.Id == layout.StockId);
            var groups = layout.Pieces
                .GroupBy(piece => order[piece.PartId])
                .OrderBy(group => group.Key)
                .Select(group => (Part: group.Key, Pieces: group.Count(),
                    Area: group.Aggregate(Area.Zero, (sum, piece) => sum + piece.Area.Area).SquareNanometres))
                .ToArray();
            var areas = groups.Select(group => group.Area).ToArray();
            var metal = Share((layout.Cost.Metal - layout.Cost.OffcutCredit - layout.Cost.ScrapCredit) * layout.Count, areas);
            var saw = Share((layout.Cost.Saw * layout.Count) + settings[at].Net, areas);
            var price = Share(stock.IsLeftover ? Money.Zero : layout.Cost.Metal * layout.Count, areas);
            for (var index = 0; index < groups.Length; index++)
            {
                var (part, pieces, _) = groups[index];
                var known = costs[part];
                listed[part] += price[index].Units;
                costs[part] = known with
                {
                    Pieces = known.Pieces + (pieces * layout.Count),
                    Metal = known.Metal + metal[index],
                    Saw = known.Saw + saw[index],
                    Facing = known.Facing + (facing[(known.PartId, layout.StockId)] * (pieces * layout.Count)),
                };
            }
        }

        foreach (var (part, cost) in fuss.Sizes)
        {
            costs[order[part]] = costs[order[part]] with { Facing = costs[order[part]].Facing + cost };
        }

        if (common != Money.Zero && costs.Any(cost => cost.Pieces > 0))
        {
            var weights = listed.Any(weight => weight > 0) ? listed : [.. costs.Select(cost => (Int128)cost.Pieces)];
            var shares = Share(common, weights);
            for (var part = 0; part < costs.Length; part++)
            {
                costs[part] = costs[part] with { Metal = costs[part].Metal + shares[part] };
            }
        }

        return [.. costs.Where(cost => cost.Pieces > 0)];
    }

    /// <summary>Stock to buy and leftovers to fetch, in the job's order.</summary>
    public static ImmutableArray<BuyLine> BuyLines(Plan plan)
    {
        var lines = ImmutableArray.CreateBuilder<BuyLine>();
        foreach (var stock in plan.Job.Stocks)
        {
            var count = plan.Layouts.Where(layout => layout.StockId == stock.Id).Sum(layout => layout.Count);
            if (count > 0)
            {
                var mass = stock.PieceMass(plan.Job.MaterialOf(stock.MaterialId));
                lines.Add(new(stock, count, stock.PiecePrice * count, mass, mass * count));
            }
        }

        return lines.ToImmutable();
    }

    /// <summary>Shares an amount by weights with largest remainders; the shares add up exactly. Negative amounts are shared as
    /// positive ones and negated.</summary>
    /// <param name="weights">Not negative, at least one above zero.</param>
    internal static Money[] Share(Money amount, IReadOnlyList<Int128> weights)
    {
        var sign = amount.Units < 0 ? -1 : 1;
        var units = Math.Abs(amount.Units);
        var whole = weights.Aggregate((Int128)0, (sum, weight) => sum + weight);
        var shares = new long[weights.Count];
        var remainders = new Int128[weights.Count];
        var left = units;
        for (var index = 0; index < shares.Length; index++)
        {
            // Money below 2^47 units and areas below 2^75: the product fits 127 bits.
            var product = weights[index] * units;
            shares[index] = (long)(product / whole);
            remainders[index] = product % whole;
            left -= shares[index];
        }

        foreach (var index in Enumerable.Range(0, shares.Length).OrderByDescending(index => remainders[index]).ThenBy(index => index).Take((int)left))
        {
            shares[index]++;
        }

        return [.. shares.Select(share => Money.FromUnits(share * sign))];
    }
}
