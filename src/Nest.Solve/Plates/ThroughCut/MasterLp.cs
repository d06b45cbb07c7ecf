using Google.OrTools.LinearSolver;
using LpSolver = Google.OrTools.LinearSolver.Solver;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The linear relaxation of the master problem over the columns at hand.</summary>
/// <remarks>min Σ c_p x_p + M·Σ u_i, Σ_p a_ip x_p + u_i ≥ d_i, Σ_{p on s} x_p ≤ limit_s, x, u ≥ 0. Solved by GLOP; its duals only guide
/// the search: bounds are computed from them in whole numbers elsewhere.</remarks>
internal sealed class MasterLp : IDisposable
{
    private readonly LpSolver _solver = Glop.Create();
    private readonly Constraint[] _demand;
    private readonly Constraint?[] _limit;
    private readonly double _scale;

    public MasterLp(ThroughModel model)
    {
        // Data
        _scale = 1.0 / Math.Max(1, model.StockCost.Max());
        _solver.Objective().SetMinimization();

        // Constraints: demand is met; stocks are not exceeded.
        _demand = [.. model.Demand.Select(d => _solver.MakeConstraint(d, double.PositiveInfinity))];
        _limit = [.. model.StockLimit.Select(limit => limit == int.MaxValue ? null : _solver.MakeConstraint(0, limit))];

        // Variables: what is missing, at a price no plate reaches.
        foreach (var row in _demand)
        {
            var missing = _solver.MakeNumVar(0, double.PositiveInfinity, "");
            row.SetCoefficient(missing, 1);
            _solver.Objective().SetCoefficient(missing, 20);
        }
    }

    public List<Variable> Columns { get; } = [];

    public void Add(Column column)
    {
        var x = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        foreach (var (item, count) in column.Counts)
        {
            _demand[item].SetCoefficient(x, count);
        }

        _limit[column.Stock]?.SetCoefficient(x, 1);
        _solver.Objective().SetCoefficient(x, column.Cost * _scale);
        Columns.Add(x);
    }

    public bool Solve() => _solver.Solve() == LpSolver.ResultStatus.OPTIMAL;

    public double Value => _solver.Objective().Value() / _scale;

    /// <summary>Value of one more piece, in cost units; never negative.</summary>
    public double[] Duals() => [.. _demand.Select(row => Math.Max(0, row.DualValue()) / _scale)];

    public double[] Values() => [.. Columns.Select(x => x.SolutionValue())];

    /// <summary>What one more plate of a limited stock would save; never negative.</summary>
    public double LimitDual(int stock) => _limit[stock] is { } row ? Math.Max(0, -row.DualValue()) / _scale : 0;

    public void Dispose() => _solver.Dispose();
}
