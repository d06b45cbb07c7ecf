using Google.OrTools.LinearSolver;
using Nest.Solve.Plates.Free;
using LpSolver = Google.OrTools.LinearSolver.Solver;

namespace Nest.Solve.Plates.Bounds;

/// <summary>A relaxation that decides how many of each piece are cut from each kind of plate.</summary>
/// <remarks>
/// Problem: min Σ_s C_s n_s + Σ k_si y_si, Σ_s y_si ≥ d_i, n_s ≥ Σ_i u_sji y_si for every pair j of dual feasible functions of plate s,
/// 0 ≤ n_s ≤ L_s and y whole. Every plan satisfies it: the pieces on n_s plates weigh at most n_s under each pair.
/// Method: linear relaxation with pairs added as long as they are violated (GLOP), for the costs and, to get more cuts on the numbers of
/// plates, for their areas and their count; then the whole-number problems by CP-SAT (<see cref="WholeMaster"/>). Guarantee: bound; all
/// that is used of the linear programs is recomputed in whole numbers (<see cref="WorthBound"/>). Complexity: some tens of small
/// linear programs.
/// </remarks>
internal sealed class ScaleMaster : IDisposable
{
    private const int Rounds = 40;

    private readonly FreeModel _model;
    private readonly FreeBudget _budget;
    private readonly int[] _stocks;
    private readonly StockScales?[] _scales;
    private readonly List<long[]>[] _weights;
    private readonly LpSolver _lp = Glop.Create();
    private readonly Variable[] _plates;
    private readonly Variable?[,] _pieces;
    private readonly Variable[] _missing;
    private readonly Constraint[] _demand;
    private readonly List<(int Stock, int Cut, Constraint Row)> _rows = [];

    private ScaleMaster(FreeModel model, FreeBudget budget)
    {
        (_model, _budget) = (model, budget);
        _stocks = [.. model.Stocks.Where(s => s.Limit > 0).Select(s => s.Index)];
        var functions = (int)Math.Clamp(Math.Sqrt(2e6 / Math.Max(1, model.Kinds) / _stocks.Length), 16, 120);
        _scales = [.. model.Stocks.Select(s => s.Limit > 0 ? new StockScales(model, s.Index, functions) : null)];
        _weights = [.. model.Stocks.Select(_ => new List<long[]>())];

        // Variables: plates, pieces by plate, and pieces not cut, so that there always is an answer.
        _plates = [.. model.Stocks.Select(s => _lp.MakeNumVar(0, s.Limit == int.MaxValue ? double.PositiveInfinity : s.Limit, string.Empty))];
        _pieces = new Variable?[model.Stocks.Length, model.Kinds];
        _missing = [.. model.Demand.Select(_ => _lp.MakeNumVar(0, double.PositiveInfinity, string.Empty))];

        // Constraints: demand; the pairs come later.
        _demand = [.. model.Demand.Select(d => _lp.MakeConstraint(d, double.PositiveInfinity))];
        for (var k = 0; k < model.Kinds; k++)
        {
            _demand[k].SetCoefficient(_missing[k], 1);
            foreach (var s in _stocks.Where(s => model.Allowed[s, k]))
            {
                var v = _pieces[s, k] = _lp.MakeNumVar(0, double.PositiveInfinity, string.Empty);
                _demand[k].SetCoefficient(v, 1);
            }
        }

        foreach (var s in _stocks)
        {
            Add(s, 0, 0, _scales[s]!.Modes[0]);
        }
    }

    public void Dispose() => _lp.Dispose();

    /// <summary>The bound, and what each piece is worth in it.</summary>
    public static (long Cost, double[] Worth) Solve(FreeModel model, long? stopAt, FreeBudget budget)
    {
        using var master = new ScaleMaster(model, budget);
        return master.Solve(stopAt);
    }

    private (long Cost, double[] Worth) Solve(long? stopAt)
    {
        var worth = _model.Area.ToArray();
        var cuts = new List<PlateCut> { WorthBound.Area(_model) };
        long bound = 0;
        if (Run([.. _model.Stocks.Select(s => (double)s.Cost)], true, 0.5) is { } cost)
        {
            bound = WorthBound.Of(_model, cost.Duals, _weights, cost.Multipliers);
            for (var k = 0; k < worth.Length; k++)
            {
                worth[k] = Math.Max(1e-3 * _model.Area[k] / _model.Area.Max(), cost.Duals[k]);
            }
        }

        if (bound >= stopAt)
        {
            return (bound, worth);
        }

        var largest = _stocks.Max(s => (double)_model.Stocks[s].Area);
        foreach (var sizes in new[]
        {
            _model.Stocks.Select(s => 1000 * (double)s.Area / largest).ToArray(), [.. _model.Stocks.Select(_ => 1000.0)],
        })
        {
            if (Run(sizes, false, 0.6) is { } size && WorthBound.Cut(_model, size.Duals, _weights, size.Multipliers) is { } cut)
            {
                cuts.Add(cut);
            }
        }

        bound = Math.Max(bound, WholeMaster.Bound(_model, _stocks, cuts, null, _budget));
        if (bound < (stopAt ?? long.MaxValue))
        {
            bound = Math.Max(bound, WholeMaster.Bound(_model, _stocks, cuts, _weights, _budget));
        }

        return (bound, worth);
    }

    /// <summary>Solves the linear relaxation at given costs of the plates; null when it was not solved.</summary>
    private (double[] Duals, double[][] Multipliers)? Run(double[] costs, bool pieceCosts, double share)
    {
        // Objective
        var dear = 1 + (10 * costs.Max());
        for (var s = 0; s < costs.Length; s++)
        {
            _lp.Objective().SetCoefficient(_plates[s], costs[s]);
        }

        for (var k = 0; k < _model.Kinds; k++)
        {
            var most = 0L;
            foreach (var s in _stocks.Where(s => _pieces[s, k] is not null))
            {
                var cost = pieceCosts ? _model.PieceCost(s, k) : 0;
                _lp.Objective().SetCoefficient(_pieces[s, k]!, cost);
                most = Math.Max(most, cost);
            }

            _lp.Objective().SetCoefficient(_missing[k], dear + most);
        }

        _lp.Objective().SetMinimization();

        // Solve, adding the violated pairs again and again.
        for (var round = 0; ; round++)
        {
            if (_lp.Solve() != LpSolver.ResultStatus.OPTIMAL)
            {
                return null;
            }

            // All values are read before the first row is added: the solver forgets them then.
            var duals = _demand.Select(r => r.DualValue()).ToArray();
            var multipliers = _weights.Select(c => new double[c.Count]).ToArray();
            foreach (var (s, cut, row) in _rows)
            {
                multipliers[s][cut] = Math.Max(0, row.DualValue());
            }

            var plates = _plates.Select(v => v.SolutionValue()).ToArray();
            var amounts = Enumerable.Range(0, plates.Length)
                .Select(s => Enumerable.Range(0, _model.Kinds).Select(k => _pieces[s, k]?.SolutionValue() ?? 0).ToArray()).ToArray();
            if (round >= Rounds || _budget.OutAt(share) || !Separate(plates, amounts))
            {
                return (duals, multipliers);
            }
        }
    }

    private bool Separate(double[] plates, double[][] amounts)
    {
        var added = false;
        foreach (var s in _stocks)
        {
            _budget.AddSteps(_scales[s]!.Steps);
            foreach (var (weight, x, y, mode) in _scales[s]!.Heaviest(amounts[s], 3))
            {
                if (weight > plates[s] + 1e-6)
                {
                    Add(s, x, y, mode);
                    added = true;
                }
            }
        }

        return added;
    }

    private void Add(int s, int x, int y, int mode)
    {
        var weights = new long[_model.Kinds];
        _scales[s]!.Weights(x, y, mode, weights);
        var row = _lp.MakeConstraint(0, double.PositiveInfinity);
        row.SetCoefficient(_plates[s], 1);
        for (var k = 0; k < _model.Kinds; k++)
        {
            if (_pieces[s, k] is { } v && weights[k] > 0)
            {
                row.SetCoefficient(v, -(double)weights[k] / StockScales.One);
            }
        }

        _weights[s].Add(weights);
        _rows.Add((s, _weights[s].Count - 1, row));
    }
}
