using Google.OrTools.LinearSolver;

namespace Nest.Solve.Choose;

/// <summary>The linear relaxation of the choosing model over the columns at hand, for its duals.</summary>
/// <remarks>
/// minimise Σ_p lower_p x_p + M Σ_i u_i subject to Σ_p a_ip x_p + u_i ≥ d_i, Σ_{p on s} x_p ≤ stock_s, x, u ≥ 0 (GLOP).
/// Its floating-point duals are only a proposal: <see cref="DualBound"/> makes a bound of them in whole numbers.
/// </remarks>
internal sealed class ColumnMaster : IDisposable
{
    private readonly Component _component;
    private readonly Solver _solver;
    private readonly Constraint[] _cover;
    private readonly Constraint?[] _limit;
    private readonly Objective _objective;
    private readonly List<(Column Column, Variable Use)> _columns = [];

    public ColumnMaster(Component component, ReadOnlySpan<int> demand, double missingCost)
    {
        _component = component;
        _solver = Glop.Create();
        _objective = _solver.Objective();
        _objective.SetMinimization();
        _cover = new Constraint[component.Items];
        for (var i = 0; i < component.Items; i++)
        {
            _cover[i] = _solver.MakeConstraint(demand[i], double.PositiveInfinity);
            var missing = _solver.MakeNumVar(0, double.PositiveInfinity, "");
            _cover[i].SetCoefficient(missing, 1);
            _objective.SetCoefficient(missing, missingCost);
        }

        _limit = new Constraint?[component.Stocks.Length];
        for (var s = 0; s < component.Stocks.Length; s++)
        {
            if (component.Stocks[s].Stock.Available is { } available)
            {
                _limit[s] = _solver.MakeConstraint(double.NegativeInfinity, available);
            }
        }
    }

    public void Add(Column column)
    {
        var use = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        _objective.SetCoefficient(use, column.LowerCost);
        for (var i = 0; i < _cover.Length; i++)
        {
            if (column.Counts[i] > 0)
            {
                _cover[i].SetCoefficient(use, column.Counts[i]);
            }
        }

        _limit[column.Stock]?.SetCoefficient(use, 1);
        _columns.Add((column, use));
    }

    /// <summary>Solves; returns the duals of the blanks (≥ 0) and of the limited stocks (≥ 0, as a price per piece used), or null.</summary>
    public (double[] Blanks, double[] Stocks)? Solve()
    {
        if (_solver.Solve() != Solver.ResultStatus.OPTIMAL)
        {
            return null;
        }

        return (
            [.. _cover.Select(row => Math.Max(0, row.DualValue()))],
            [.. _limit.Select(row => row is null ? 0 : Math.Max(0, -row.DualValue()))]);
    }

    /// <summary>How often each column is used in the linear optimum (columns above zero only).</summary>
    public IEnumerable<(Column Column, double Use)> Used() =>
        _columns.Select(entry => (entry.Column, entry.Use.SolutionValue())).Where(entry => entry.Item2 > 1e-7);

    public void Dispose() => _solver.Dispose();
}
