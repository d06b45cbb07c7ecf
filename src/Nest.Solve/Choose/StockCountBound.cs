using System.Globalization;
using Google.OrTools.Sat;

namespace Nest.Solve.Choose;

/// <summary>A lower bound that knows that stock comes in whole pieces: with few pieces of stock the linear bound, which buys 0.4 of a
/// plate, is far too low.</summary>
/// <remarks>
/// Relaxation: y_s whole pieces of stock s, z_si pieces of blank i from it,
/// minimise Σ C_s y_s + Σ k_si z_si − Σ credit, subject to Σ_s z_si = d_i (surplus never pays: k, C ≥ 0),
/// size: Σ_i (size_i + kerf) z_si ≤ (usable + kerf)·y_s (area on plates, length on bars), z_si ≤ most_si·y_s, pieces per bar,
/// y_s ≤ stock_s, and for values π from column generation Σ_i max(0, π_i − k_si) z_si ≤ Z_s y_s (every layout keeps it, so sums do).
/// On bars the credit for leftovers is at most keeping rate × what the pieces leave of the usable length; and, as pricing knows the
/// leftovers' exact value, what is cut from stock s costs at least (C_s − Z_s) y_s + Σ π_i z_si for each π: the larger counts.
/// CP-SAT works in whole numbers, so its bound is safe; coefficients are rounded the safe way. Guarantee: bound. Complexity: that of a
/// small integer program, cut off by deterministic time.
/// </remarks>
internal static class StockCountBound
{
    /// <param name="cuts">Values π (money units × <see cref="IStockPricer.Scale"/>) with the proven Z per stock.</param>
    /// <returns>The bound in money units.</returns>
    public static long Of(
        Component component, ReadOnlySpan<int> demand, IReadOnlyList<(long[] Values, long[] Best)> cuts,
        double deterministicTime, double seconds, CancellationToken cancel)
    {
        if (seconds <= 0.01 || !component.LowerCosts.Valid)
        {
            return 0;
        }

        var model = new CpModel();
        var objective = LinearExpr.NewBuilder();
        AddTo(model, component, demand, cuts, objective);
        model.Minimize(objective);
        return Solve(model, deterministicTime, seconds, cancel);
    }

    /// <summary>Adds the relaxation of one component to a model and its objective.</summary>
    /// <returns>Whole pieces of each stock; null where none may be used.</returns>
    internal static IntVar?[] AddTo(
        CpModel model, Component component, ReadOnlySpan<int> demand, IReadOnlyList<(long[] Values, long[] Best)> cuts,
        LinearExprBuilder objective)
    {
        // Data and variables
        var stocks = component.Stocks.Length;
        var whole = new IntVar?[stocks];
        var from = new IntVar?[stocks, component.Items];
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
            Size(model, component, s, demand, count, from, objective, cuts);
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
        }

        return whole;
    }

    /// <summary>The model's bound, rounded down; 0 when there is none.</summary>
    internal static long Solve(CpModel model, double deterministicTime, double seconds, CancellationToken cancel)
    {
        // Solve; only the bound is read.
        using var solver = new CpSolver();
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture,
            $"num_workers:1 random_seed:1 max_deterministic_time:{deterministicTime} max_time_in_seconds:{seconds} linearization_level:2");
        using var registration = cancel.Register(solver.StopSearch);
        var status = solver.Solve(model);
        if (status is CpSolverStatus.Infeasible or CpSolverStatus.ModelInvalid or CpSolverStatus.Unknown)
        {
            return 0;
        }

        // The objective is whole in the model's scaled units; CP-SAT reports it as a double.
        var bound = Math.Floor(solver.BestObjectiveBound + 1e-6);
        return bound <= 0 ? 0 : (long)bound;
    }

    private static void Size(
        CpModel model, Component component, int s, ReadOnlySpan<int> demand, IntVar count, IntVar?[,] from, LinearExprBuilder objective,
        IReadOnlyList<(long[] Values, long[] Best)> cuts)
    {
        var frame = component.Stocks[s];
        var kerf = component.Units(frame.Saw.Kerf);
        var usable = frame.IsBar
            ? component.Units(frame.Usable.SizeX) + (Int128)kerf
            : (Int128)(component.Units(frame.Usable.SizeX) + kerf) * (component.Units(frame.Usable.SizeY) + kerf);

        // Coefficients of the size row are cut down to about 30 bits: pieces down, stock up.
        var divisor = Int128.Max(1, usable >> 30);
        var room = (long)((usable + divisor - 1) / divisor);
        var row = LinearExpr.NewBuilder();
        var number = LinearExpr.NewBuilder();
        var credit = LeftoverRate(component, s);
        var cost = frame.IsBar ? LinearExpr.NewBuilder() : objective;
        cost.AddTerm(count, component.LowerCosts.Stock[s] - credit.PerStock);
        for (var i = 0; i < demand.Length; i++)
        {
            if (component.Fits[s, i] is null)
            {
                continue;
            }

            var size = frame.IsBar
                ? component.SizeX(s, i) + (Int128)kerf
                : (Int128)(component.SizeX(s, i) + kerf) * (component.SizeY(s, i) + kerf);
            var pieces = model.NewIntVar(0, demand[i], "");
            from[s, i] = pieces;
            row.AddTerm(pieces, (long)(size / divisor));
            number.Add(pieces);
            var fitting = (long)(usable / size);
            model.Add(pieces <= LinearExpr.Term(count, Math.Min(fitting, demand[i])));
            cost.AddTerm(pieces, component.LowerCosts.Piece[s, i] + credit.PerPiece(i));
        }

        model.Add(row <= LinearExpr.Term(count, room));
        if (frame.IsBar)
        {
            BarCost(model, component, s, count, from, cost, cuts, objective);
        }

        if (frame.IsBar && frame.Saw.MostPieces is { } most)
        {
            model.Add(number <= LinearExpr.Term(count, most));
        }
    }

    /// <summary>Cost of all that is cut from this bar: at least each of several linear functions.</summary>
    private static void BarCost(
        CpModel model, Component component, int s, IntVar count, IntVar?[,] from, LinearExprBuilder linear,
        IReadOnlyList<(long[] Values, long[] Best)> cuts, LinearExprBuilder objective)
    {
        var cost = model.NewIntVar(0, long.MaxValue >> 12, "");
        model.Add(cost >= linear);
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

        objective.Add(cost);
    }

    /// <summary>What leftovers of a bar may bring at most: a constant per bar, less a part per piece; nothing on plates, whose lower
    /// cost has it already.</summary>
    private static (long PerStock, Func<int, long> PerPiece) LeftoverRate(Component component, int s)
    {
        var frame = component.Stocks[s];
        if (!frame.IsBar)
        {
            return (0, _ => 0);
        }

        var sheet = (Int128)frame.Sheet.SizeX.Nanometres;
        var keep = (Int128)frame.Worth.Keep.Units;

        // Per bar rounded up, per piece rounded down. The kerf behind the last piece may lie beyond the end: it is counted with the
        // bar, so that a full bar is not credited less than nothing.
        var perStock = (long)((((frame.Usable.SizeX + frame.Saw.Kerf).Nanometres * keep) + sheet - 1) / sheet);
        return (perStock, i => (long)((component.Fits[s, i]!.SizeX + frame.Saw.Kerf).Nanometres * keep / sheet));
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
