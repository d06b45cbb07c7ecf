using System.Numerics;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Column generation over through-cut layouts of any depth and any number of copies: columns for the master problem, and a
/// lower bound for the whole job.</summary>
/// <remarks>
/// Bound: for whole numbers π ≥ 0 and Z_s ≥ max Σ (π_i − pieceCost_si)·a_i over the layouts of stock s, let θ ≤ 1 be the least
/// cost_s / Z_s over unlimited stocks and μ_s = max(0, θ·Z_s − cost_s) on limited ones; then θ·Σ d_i π_i − Σ limit_s μ_s is a lower bound
/// (Lagrange, Farley 1990). Z_s comes from <see cref="GuillotineTable"/>, which relaxes stages, saw rules, keep-outs and copies. All
/// arithmetic of the bound is in whole numbers; floating-point duals are only a suggestion for π.
/// </remarks>
internal sealed class ColumnBound : IDisposable
{
    /// <summary>Steps of a table (about half a nanosecond each) that a pricing round may take, and that the final bound may take.</summary>
    private static readonly double[] RoundSteps = [4e6, 3e7];
    private const double FinalSteps = 6e8;

    private readonly ThroughModel _model;
    private readonly MasterLp _lp;
    private readonly ColumnPool _pool;
    private readonly CostSteps _steps;
    private IValueTable[] _tables;
    private int _level;
    private readonly long _unit;
    private int _added;
    private double[]? _center;

    public ColumnBound(ThroughModel model, ColumnPool pool, CostSteps steps)
    {
        _model = model;
        _pool = pool;
        _steps = steps;
        _lp = new MasterLp(model);
        _unit = Math.Max(1, (1L << 40) / Math.Max(1, model.StockCost.Max()));
        _tables = Tables();
    }

    /// <summary>Whether each round's pricing is itself a proof.</summary>
    public bool Exact => _tables.All(t => t.Exact);

    public long Best { get; private set; }

    public double[] Duals { get; private set; } = [];

    /// <summary>One round: solve the LP, price, add columns, update the bound. False when nothing more is to be gained.</summary>
    public bool Round(SearchBudget budget)
    {
        while (_added < _pool.Columns.Count)
        {
            _lp.Add(_pool.Columns[_added++]);
        }

        budget.Add(200 + (2 * _pool.Columns.Count));
        if (!_lp.Solve())
        {
            return false;
        }

        Duals = _lp.Duals();
        // Smoothing (Wentges 1997): price between the best duals so far and the LP's.
        var found = false;
        if (_center is not null)
        {
            found = Price([.. Duals.Zip(_center, (a, b) => (0.4 * a) + (0.6 * b))], budget);
        }

        if (!found)
        {
            found = Price(Duals, budget);
        }

        if (!found && !Exact && _level + 1 < RoundSteps.Length)
        {
            _level++;
            _tables = Tables();
            return true;
        }

        return found;
    }

    private IValueTable[] Tables() =>
        [.. Enumerable.Range(0, _model.StockCount).Select(s => ValueTables.Within(_model, s, RoundSteps[_level], true))];

    /// <summary>A proof with fine tables, for jobs whose plates have too many points for the rounds.</summary>
    public void Prove(SearchBudget budget, double[] duals)
    {
        var values = Whole(duals);
        var most = new long[_model.StockCount];
        for (var s = 0; s < _model.StockCount; s++)
        {
            var table = ValueTables.Within(_model, s, FinalSteps, false);
            budget.Add((long)(table.Steps / 1500));
            most[s] = table.Fill(Net(s, values));
        }

        Improve(values, most);
    }

    public void Dispose() => _lp.Dispose();

    private bool Price(double[] duals, SearchBudget budget)
    {
        var values = Whole(duals);
        var most = new long[_model.StockCount];
        var found = false;
        for (var s = 0; s < _model.StockCount; s++)
        {
            var table = _tables[s];
            budget.Add(20 + (long)(table.Steps / 1500));
            most[s] = table.Fill(Net(s, values));
            var sheet = _model.Blank[s][0].Clone();
            var pattern = table.Pattern();
            // A pattern that breaks a rule of the saw (or a keep-out) is worth nothing to the master, but its value still bounds.
            if (_model.Problem.Stocks[s].KeepOuts.IsDefaultOrEmpty && sheet.Build(_model, pattern) && Gain(sheet) > 1e-7)
            {
                found |= _pool.Add(sheet);
            }
        }

        if (Exact && Improve(values, most))
        {
            _center = duals;
        }
        else if (_center is null)
        {
            _center = duals;
        }

        return found;
    }

    /// <summary>How much the LP gains by this column at its own duals, relative to the dearest plate.</summary>
    private double Gain(CutSheet sheet)
    {
        var value = 0.0;
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item >= 0)
            {
                value += Duals[node.Item] - _model.CostOf(sheet.Stock, node.Item);
            }
        }

        return (value - _model.StockCost[sheet.Stock]) / Math.Max(1, _model.StockCost.Max());
    }

    private long[] Whole(double[] duals) => [.. duals.Select(d => (long)Math.Min(Math.Round(d * _unit), 1L << 45))];

    private long[] Net(int stock, long[] values)
    {
        var net = new long[values.Length];
        for (var i = 0; i < net.Length; i++)
        {
            var cost = _model.CostOf(stock, i);
            net[i] = cost == PlateProblem.Forbidden ? 0 : Math.Max(0, (long)Int128.Max(0, values[i] - ((Int128)cost * _unit)));
        }

        return net;
    }

    private bool Improve(long[] values, long[] most)
    {
        BigInteger up = 1;
        BigInteger down = 1;
        for (var s = 0; s < most.Length; s++)
        {
            var cost = (BigInteger)_model.StockCost[s] * _unit;
            if (_model.StockLimit[s] == int.MaxValue && most[s] * up > cost * down)
            {
                (up, down) = (cost, most[s]);
            }
        }

        BigInteger sum = 0;
        for (var i = 0; i < values.Length; i++)
        {
            sum += (BigInteger)values[i] * _model.Demand[i];
        }

        var scaled = sum * up;
        for (var s = 0; s < most.Length; s++)
        {
            if (_model.StockLimit[s] != int.MaxValue)
            {
                scaled -= BigInteger.Max(0, (most[s] * up) - (_model.StockCost[s] * (BigInteger)_unit * down)) * _model.StockLimit[s];
            }
        }

        if (scaled.Sign <= 0)
        {
            return false;
        }

        var parts = down * _unit;
        var bound = (long)((scaled + parts - 1) / parts);
        var better = (double)scaled / (double)parts > _bestReal;
        _bestReal = Math.Max(_bestReal, (double)scaled / (double)parts);
        if (bound > Best)
        {
            Best = _steps.RoundUp(bound);
        }

        return better;
    }

    private double _bestReal = double.NegativeInfinity;
}
