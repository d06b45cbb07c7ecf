using Google.OrTools.LinearSolver;
using Nest.Solve.Plates.Free;
using LpSolver = Google.OrTools.LinearSolver.Solver;

namespace Nest.Solve.Plates.Bounds;

/// <summary>Upper bound on what any layout of one stock is worth.</summary>
/// <remarks>
/// Problem: max Σ v_i a_i, Σ u_ji a_i ≤ 1 for every pair j of dual feasible functions, 0 ≤ a_i ≤ b_i. Method: linear program (GLOP) with
/// pairs added as long as they are violated; its duals, rounded up to whole numbers, give the bound by <see cref="WorthBound.Layout"/>.
/// Pairs are kept from call to call. Guarantee: bound, exact arithmetic. Complexity: a few small linear programs.
/// </remarks>
internal sealed class LayoutWorth
{
    private const int Rounds = 12;

    private readonly FreeModel _model;
    private readonly StockScales _scales;
    private readonly List<long[]> _weights = [];
    private readonly HashSet<(int, int, int)> _known = [];

    public LayoutWorth(FreeModel model, int stock)
    {
        _model = model;
        _scales = new StockScales(model, stock, (int)Math.Clamp(Math.Sqrt(4e6 / Math.Max(1, model.Kinds)), 24, 120));
        Add(0, 0, _scales.Modes[0]);
        foreach (var (_, x, y, mode) in _scales.Heaviest([.. model.Demand.Select(d => (double)d)], 3))
        {
            Add(x, y, mode);
        }
    }

    /// <param name="values">At least 0; 0 for what the stock does not take.</param>
    public long Most(long[] values)
    {
        var least = Int128.MaxValue;
        var kinds = Enumerable.Range(0, values.Length).Where(k => values[k] > 0).ToArray();
        if (kinds.Length == 0)
        {
            return 0;
        }

        using var lp = Glop.Create();
        var a = kinds.ToDictionary(k => k, k => lp.MakeNumVar(0, _model.Demand[k], string.Empty));
        foreach (var (k, v) in a)
        {
            lp.Objective().SetCoefficient(v, values[k]);
        }

        lp.Objective().SetMaximization();
        var rows = new List<Constraint>();
        for (var round = 0; round < Rounds; round++)
        {
            while (rows.Count < _weights.Count)
            {
                var row = lp.MakeConstraint(double.NegativeInfinity, 1);
                foreach (var (k, v) in a)
                {
                    row.SetCoefficient(v, (double)_weights[rows.Count][k] / StockScales.One);
                }

                rows.Add(row);
            }

            if (lp.Solve() != LpSolver.ResultStatus.OPTIMAL)
            {
                break;
            }

            var multipliers = rows.Select(r => r.DualValue() is var d && d > 0 && d < 1e18 ? (long)Math.Ceiling(d) : 0).ToArray();
            least = Int128.Min(least, WorthBound.Layout(values, _model.Demand, _weights, multipliers));
            var amounts = new double[values.Length];
            foreach (var (k, v) in a)
            {
                amounts[k] = v.SolutionValue();
            }

            var added = false;
            foreach (var (weight, x, y, mode) in _scales.Heaviest(amounts, 3))
            {
                added |= weight > 1 + 1e-6 && Add(x, y, mode);
            }

            if (!added)
            {
                break;
            }
        }

        if (least == Int128.MaxValue)
        {
            // No duals at hand: everything at once.
            least = WorthBound.Layout(values, _model.Demand, [], []);
        }

        return (long)Int128.Min(least, long.MaxValue);
    }

    private bool Add(int x, int y, int mode)
    {
        if (!_known.Add((x, y, mode)))
        {
            return false;
        }

        var weights = new long[_model.Kinds];
        _scales.Weights(x, y, mode, weights);
        _weights.Add(weights);
        return true;
    }
}
