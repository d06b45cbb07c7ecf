using System.Numerics;

namespace Nest.Solve.Bars;

/// <summary>Exact pricing on all stocks of a model: the layout of most value per stock, several more, and a proven upper bound.</summary>
/// <remarks>
/// Problem: per stock s, maximise Σ (π_i − S·extra_si) a_i + S·Leftover_s(leftover) + κ_g(s) where the leftover is kept, over layouts, in
/// integers (S: the duals' scale).
/// Method: one table per group of stocks that differ only in length, price and leftover value (<see cref="KnapsackTable{T}"/>);
/// branch and bound with a coarse completion bound where the capacity is too large for a table.
/// Guarantee: the upper bound is valid always, and exact (met by a layout) with the table.
/// </remarks>
internal sealed class BarPricing(BarModel model)
{
    private const long TableMemory = 400_000_000;
    private const long NarrowMost = 1L << 29;

    private readonly IReadOnlyList<PricingGroup> groups = PricingGroup.Of(model);
    private readonly TableReader reader = new(model);

    /// <summary>Best value per stock (upper bound; the empty bar included where kept leftovers are not counted).</summary>
    public long[] Best { get; private set; } = [];

    /// <summary>Whether <see cref="Best"/> is exact for all stocks.</summary>
    public bool Exact { get; private set; }

    /// <summary>Solves all stocks.</summary>
    /// <param name="dual">Value of one piece per type, then (optional) price of a kept leftover per group, in units of cost / scale.</param>
    /// <param name="scale">Scale of the duals.</param>
    /// <param name="remaining">Most copies by type (the remaining demand), or null: the demand.</param>
    /// <param name="perStock">Most layouts wanted per stock.</param>
    /// <param name="wanted">Whether layouts of a stock are wanted at all.</param>
    /// <param name="found">Receives layouts with their value, best first per stock.</param>
    /// <param name="meter">Work done is booked here.</param>
    public void Price(
        long[] dual, long scale, int[]? remaining, int perStock, Func<int, bool> wanted, List<(BarPattern Pattern, long Value)> found, WorkMeter meter)
    {
        Best = new long[model.Stocks];
        Exact = true;
        foreach (PricingGroup group in groups)
        {
            PriceGroup(group, dual, scale, remaining, perStock, wanted, found, meter);
        }
    }

    private void PriceGroup(
        PricingGroup group, long[] dual, long scale, int[]? remaining, int perStock, Func<int, bool> wanted, List<(BarPattern, long)> found, WorkMeter meter)
    {
        int lead = group.Stocks[0];
        long top = 0;
        foreach (int s in group.Stocks)
        {
            top = Math.Max(top, model.MostBars[s] > 0 ? model.Capacity[s] : 0);
        }

        var value = new long[model.Types];
        var copies = new int[model.Types];
        double density = 0;
        foreach (int i in group.Order)
        {
            value[i] = dual[i] - (scale * model.PieceCost(lead, i));
            long most = Math.Min(remaining is null ? model.Demand[i] : remaining[i], top / model.Weight[i]);
            copies[i] = (int)Math.Min(most, model.MostPieces[lead]);
            if (copies[i] > 0)
            {
                density = Math.Max(density, (double)value[i] / model.Weight[i]);
            }
        }

        // Where kept leftovers have a price below zero, a piece that loses can pay: it fills the bar so far that its leftover is scrap. All such
        // pieces of a best layout together lose no more than that price, as without them it is a layout too.
        long relief = 0;
        foreach (int s in group.Stocks)
        {
            relief = Math.Max(relief, -KeptPrice(dual, s));
        }

        // Nothing that loses more than everything else can gain belongs to a best layout.
        double total = (density * top * 1.01) + relief;
        foreach (int i in group.Order)
        {
            if (value[i] < -total - 1)
            {
                copies[i] = 0;
            }
            else if (value[i] < 0)
            {
                copies[i] = (int)Math.Min(copies[i], (relief / -value[i]) + 1);
            }
        }

        bool narrowFits = total < NarrowMost && value.All(v => Math.Abs(v) < NarrowMost);
        long memory = narrowFits
            ? KnapsackTable<int>.Memory(top, copies, group.NeedLong, model.MostPieces[lead])
            : KnapsackTable<long>.Memory(top, copies, group.NeedLong, model.MostPieces[lead]);
        if (top > TableReader.MostCapacity || memory > TableMemory)
        {
            foreach (int s in group.Stocks)
            {
                Search(s, value, KeptPrice(dual, s), scale, copies, perStock, wanted(s), found, meter);
            }
        }
        else if (narrowFits)
        {
            Fill(group.Narrow);
        }
        else
        {
            Fill(group.Wide);
        }

        void Fill<T>(KnapsackTable<T> table)
            where T : unmanaged, IBinaryInteger<T>, IMinMaxValue<T>
        {
            table.Run((int)top, group.Order, model.Weight, copies, value, group.IsLong, group.NeedLong, model.MostPieces[lead], model.Groups > 0, relief > 0);
            meter.Steps(table.Steps);
            foreach (int s in group.Stocks)
            {
                Best[s] = reader.Read(table, s, group.NeedLong, value, KeptPrice(dual, s), scale, wanted(s) ? perStock : 0, found);
            }
        }
    }

    private long KeptPrice(long[] dual, int s) =>
        model.GroupOf[s] >= 0 && dual.Length > model.Types ? dual[model.Types + model.GroupOf[s]] : 0;

    private void Search(
        int s, long[] value, long kept, long scale, int[] copies, int perStock, bool wanted, List<(BarPattern, long)> found, WorkMeter meter)
    {
        long floor = scale * model.LeftoverValue(s, 0);
        Best[s] = floor;
        if (model.MostBars[s] == 0)
        {
            return;
        }

        bool grouped = model.GroupOf[s] >= 0;
        long best = grouped ? long.MinValue : floor;
        foreach (Leftovers which in LayoutSearch.Classes(model, s))
        {
            long price = which == Leftovers.Kept ? kept : 0;
            var search = new LayoutSearch(model, s, which, value, scale, copies);
            bool done = search.Best(grouped ? long.MinValue / 4 : floor, Math.Max(1, perStock), 3_000_000);
            meter.Steps(search.Steps);
            best = !done ? Math.Max(best, search.RootBound + price)
                : search.Found.Count > 0 ? Math.Max(best, search.Found[0].Value + price) : best;
            Exact &= done;
            if (wanted)
            {
                found.AddRange(search.Found.Take(perStock).Select(f => (f.Pattern, f.Value + price)));
            }
        }

        Best[s] = best == long.MinValue ? floor : best;
    }
}
