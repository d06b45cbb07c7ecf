using Google.OrTools.Sat;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A lower bound that knows that stock comes in whole pieces: with few pieces of stock the linear bound, which buys 0.4 of a
/// plate, is far too low.</summary>
/// <remarks>
/// Relaxation: y_s whole pieces of stock s, z_si pieces of blank i from it,
/// minimise Σ C_s y_s + Σ k_si z_si − Σ credit, subject to Σ_s z_si = d_i (surplus never pays: k, C ≥ 0),
/// size: Σ_i (size_i + kerf) z_si ≤ (usable + kerf)·y_s (area on plates, length on bars), z_si ≤ most_si·y_s, pieces per bar,
/// y_s ≤ stock_s, and for values π from column generation Σ_i max(0, π_i − k_si) z_si ≤ Z_s y_s (every layout keeps it, so sums do).
/// On bars there are two limits, and the stricter one counts. First: the credit for leftovers is at most the keeping rate × the usable
/// length that the pieces leave. Second: what is cut from stock s costs at least (C_s − Z_s) y_s + Σ π_i z_si, for each π. The second holds
/// because pricing knows the exact value of leftovers.
/// Of y_s pieces q_s leave an offcut to keep, each at least as large as the smallest one: size: … + least·q_s ≤ …; what is cut costs at
/// least what it would if all rest were scrap, less q_s times the most that keeping brings on one piece of stock.
/// CP-SAT works in whole numbers, so its bound is safe; coefficients are rounded the safe way. Guarantee: bound. Complexity: that of a
/// small integer program, cut off by deterministic time.
/// </remarks>
internal static class StockCountBound
{
    /// <param name="cuts">Values π (money units × <see cref="IStockPricer.Scale"/>) with the proven Z per stock.</param>
    public static Bound Of(
        Component component, ReadOnlySpan<int> demand, IReadOnlyList<(long[] Values, long[] Best)> cuts,
        double deterministicTime, double seconds, CancellationToken cancel)
    {
        if (seconds <= 0.01 || !component.LowerCosts.Valid)
        {
            return Bound.None;
        }

        var model = new CpModel();
        var objective = LinearExpr.NewBuilder();
        AddTo(model, component, demand, cuts, objective);
        model.Minimize(objective);
        return WholeBound.Of(model, deterministicTime, seconds, cancel) is { } bound ? Bound.Of(bound - component.LowerCosts.Roundings(demand), Methods.WholePieces, BoundScope.Component) : Bound.None;
    }

    /// <summary>Adds the relaxation of one component to a model and its objective.</summary>
    /// <param name="caps">What pieces of stock hold at most (<see cref="LayoutCaps"/>).</param>
    /// <param name="keeps">Stocks for which it is counted how many pieces leave an offcut to keep; for the others all may.</param>
    /// <param name="sizes">Count what ties the stocks of a part together (<see cref="SizeGroups"/>): for plans that are costed with it.</param>
    internal static Counts AddTo(
        CpModel model, Component component, ReadOnlySpan<int> demand, IReadOnlyList<(long[] Values, long[] Best)> cuts,
        LinearExprBuilder objective, IEnumerable<LayoutCaps.Cap>? caps = null, IReadOnlySet<int>? keeps = null, bool sizes = false)
    {
        // Data and variables
        var stocks = component.Stocks.Length;
        var whole = new IntVar?[stocks];
        var from = new IntVar?[stocks, component.Items];
        var keeping = new IntVar?[stocks];
        var total = 0;
        foreach (var wanted in demand)
        {
            total += wanted;
        }

        for (var s = 0; s < stocks; s++)
        {
            var most = component.Stocks[s].Stock.Available is { } available ? Math.Min(available, total) : total;
            if (most == 0)
            {
                continue;
            }

            var count = model.NewIntVar(0, most, "");
            whole[s] = count;
            keeping[s] = Size(model, component, s, demand, count, keeps?.Contains(s) == true ? most : null, from, objective, cuts);
            Values(model, component, s, count, from, cuts);
        }

        // Every blank is cut.
        for (var i = 0; i < demand.Length; i++)
        {
            var sum = LinearExpr.NewBuilder();
            for (var s = 0; s < stocks; s++)
            {
                if (from[s, i] is { } pieces)
                {
                    sum.Add(pieces);
                }
            }

            model.Add(sum == demand[i]);
            if (sizes && demand[i] > 0 && component.Sizes.Matters(i))
            {
                Groups(model, component, i, demand[i], from, objective);
            }
        }

        foreach (var cap in caps ?? [])
        {
            if (whole[cap.Stock] is { } count)
            {
                var row = LinearExpr.NewBuilder();
                for (var i = 0; i < demand.Length; i++)
                {
                    if (cap.Weights[i] > 0 && from[cap.Stock, i] is { } pieces)
                    {
                        row.AddTerm(pieces, cap.Weights[i]);
                    }
                }

                if (cap.Keep > 0 && keeping[cap.Stock] is { } keep)
                {
                    row.AddTerm(keep, cap.Keep);
                }

                model.Add(row <= LinearExpr.Term(count, cap.Most));
            }
        }

        return new(whole, from, keeping);
    }

    /// <summary>Pieces of a part from a group of stocks make that group used; one is free, or all that is allowed.</summary>
    private static void Groups(CpModel model, Component component, int i, int demand, IntVar?[,] from, LinearExprBuilder objective)
    {
        var sizes = component.Sizes;
        var all = new List<BoolVar>();
        for (var g = 0; g < sizes.Number[i]; g++)
        {
            var used = model.NewBoolVar("");
            var pieces = LinearExpr.NewBuilder();
            for (var s = 0; s < component.Stocks.Length; s++)
            {
                if (from[s, i] is { } some && sizes.Of(s, i) == g)
                {
                    pieces.Add(some);
                }
            }

            model.Add(pieces <= LinearExpr.Term(used, demand));
            if (!sizes.IsKept(i, g))
            {
                all.Add(used);
            }
        }

        var kept = sizes.KeptGroups(i);
        if (sizes.OnlyOne[i])
        {
            model.Add(LinearExpr.Sum(all) <= (kept == 0 ? 1 : 0));
            return;
        }

        objective.Add(sizes.Charge * (kept - 1));
        foreach (var used in all)
        {
            objective.AddTerm(used, sizes.Charge);
        }
    }

    /// <summary>What the relaxation decides of a component; null where there is nothing to decide.</summary>
    /// <param name="Whole">Whole pieces of each stock.</param>
    /// <param name="From">Pieces of each item from each stock, [stock, item].</param>
    /// <param name="Keeping">Pieces of each stock that leave an offcut to keep; null where none can.</param>
    internal sealed record Counts(IntVar?[] Whole, IntVar?[,] From, IntVar?[] Keeping);

    /// <returns>Pieces of stock that leave an offcut to keep; null where keeping makes no difference.</returns>
    private static IntVar? Size(
        CpModel model, Component component, int s, ReadOnlySpan<int> demand, IntVar count, int? mostKept, IntVar?[,] from,
        LinearExprBuilder objective, IReadOnlyList<(long[] Values, long[] Best)> cuts)
    {
        var frame = component.Stocks[s];
        var usable = StockSize.Room(component, s);

        // Coefficients of the size row are cut down to about 30 bits: pieces down, stock up.
        var divisor = Int128.Max(1, usable >> 30);
        var room = (long)((usable + divisor - 1) / divisor);
        var row = LinearExpr.NewBuilder();
        var number = LinearExpr.NewBuilder();
        var credit = StockSize.LeftoverRate(component, s);
        var gain = StockSize.KeepGain(component, s);
        var keeping = gain > 0 && mostKept is { } all ? model.NewIntVar(0, all, "") : null;
        // Where the fixed part of a plate would be negative, its shares of kerfs and cuts were cut down: whole they are a bound beside it.
        var capped = !frame.IsBar && component.LowerCosts.WholeStock[s] < 0;
        var own = frame.IsBar || keeping is not null || capped;
        var cost = own ? LinearExpr.NewBuilder() : objective;
        var bare = LinearExpr.NewBuilder();
        var uncut = LinearExpr.NewBuilder();
        uncut.AddTerm(count, component.LowerCosts.WholeStock[s]);
        cost.AddTerm(count, component.LowerCosts.Stock[s] - credit.PerStock);
        bare.AddTerm(count, component.LowerCosts.BareStock[s]);
        for (var i = 0; i < demand.Length; i++)
        {
            if (component.Fits[s, i] is null)
            {
                continue;
            }

            var size = StockSize.Of(component, s, i);
            var pieces = model.NewIntVar(0, demand[i], "");
            from[s, i] = pieces;
            row.AddTerm(pieces, (long)(size / divisor));
            number.Add(pieces);
            var fitting = (long)(usable / size);
            model.Add(pieces <= LinearExpr.Term(count, Math.Min(fitting, demand[i])));
            cost.AddTerm(pieces, component.LowerCosts.Piece[s, i] + credit.PerPiece(i));
            bare.AddTerm(pieces, component.LowerCosts.BarePiece[s, i]);
            uncut.AddTerm(pieces, component.LowerCosts.WholePiece[s, i]);
        }

        if (keeping is not null)
        {
            // Where nothing large enough is left, the rest is scrap.
            model.Add(keeping <= count);
            row.AddTerm(keeping, (long)(StockSize.LeastKept(component, s) / divisor));
            bare.AddTerm(keeping, -gain);
        }

        model.Add(row <= LinearExpr.Term(count, room));
        if (own)
        {
            var paid = model.NewIntVar(0, long.MaxValue >> 12, "");
            model.Add(paid >= cost);
            if (keeping is not null)
            {
                model.Add(paid >= bare);
            }

            if (capped)
            {
                model.Add(paid >= uncut);
            }

            if (frame.IsBar)
            {
                BarCost(model, component, s, count, from, paid, cuts);
            }

            objective.Add(paid);
        }

        if (frame.IsBar && frame.Saw.MostPieces is { } held)
        {
            model.Add(number <= LinearExpr.Term(count, held));
        }

        return keeping;
    }

    /// <summary>Cost of all that is cut from this bar: at least each of several linear functions.</summary>
    private static void BarCost(
        CpModel model, Component component, int s, IntVar count, IntVar?[,] from, IntVar cost,
        IReadOnlyList<(long[] Values, long[] Best)> cuts)
    {
        foreach (var (values, best) in cuts)
        {
            // Scaled by 256: whole coefficients without rounding.
            var row = LinearExpr.NewBuilder();
            row.AddTerm(count, (component.LowerCosts.Stock[s] * IStockPricer.Scale) - best[s]);
            for (var i = 0; i < values.Length; i++)
            {
                if (from[s, i] is { } pieces)
                {
                    row.AddTerm(pieces, values[i]);
                }
            }

            model.Add(LinearExpr.Term(cost, IStockPricer.Scale) >= row);
        }
    }

    private static void Values(
        CpModel model, Component component, int s, IntVar count, IntVar?[,] from, IReadOnlyList<(long[] Values, long[] Best)> cuts)
    {
        foreach (var (values, best) in cuts)
        {
            var divisor = Math.Max(1, best[s] >> 30);
            var row = LinearExpr.NewBuilder();
            for (var i = 0; i < values.Length; i++)
            {
                var net = values[i] - (component.LowerCosts.Piece[s, i] * IStockPricer.Scale);
                if (from[s, i] is { } pieces && net > 0)
                {
                    row.AddTerm(pieces, net / divisor);
                }
            }

            model.Add(row <= LinearExpr.Term(count, (best[s] / divisor) + 1));
        }
    }
}
