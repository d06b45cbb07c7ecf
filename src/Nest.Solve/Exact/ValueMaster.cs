using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>The linear programme over known loads, for the values of the blanks.</summary>
/// <remarks>
/// minimise Σ cost · x + M Σ u subject to Σ counts · x + u ≥ demand and, over the loads of a stock, Σ x ≤ how many there are; or, with the
/// counts of the stocks given, Σ x = that count, the price of those left out and the empty load allowed. (GLOP.) Its duals in floating
/// point are only a proposal: any values ≥ 0 make a valid bound.
/// </remarks>
internal sealed class ValueMaster : IDisposable
{
    private readonly ExactJob _job;
    private readonly Solver _solver;
    private readonly Constraint[] _cover;
    private readonly Constraint?[] _stock;
    private readonly int[]? _counts;
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);

    /// <param name="counts">Pieces of each stock to be used, by source; null: as many as there are.</param>
    /// <param name="missing">Cost of a missing piece, by kind, in grains.</param>
    public ValueMaster(ExactJob job, int[]? counts, double[] missing)
    {
        (_job, _counts) = (job, counts);
        _solver = Glop.Create();
        var objective = _solver.Objective();
        objective.SetMinimization();
        _cover = new Constraint[job.Demand.Length];
        for (var k = 0; k < _cover.Length; k++)
        {
            _cover[k] = _solver.MakeConstraint(job.Demand[k], double.PositiveInfinity);
            var left = _solver.MakeNumVar(0, double.PositiveInfinity, "");
            _cover[k].SetCoefficient(left, 1);
            objective.SetCoefficient(left, missing[k] / Grain.PerCurrency);
        }

        _stock = new Constraint?[job.Sources.Length];
        foreach (var source in job.Sources)
        {
            if (counts is not null && !source.IsSingle)
            {
                _stock[source.Number] = _solver.MakeConstraint(counts[source.Number], counts[source.Number]);
            }
            else if (source.Limit is { } limit)
            {
                _stock[source.Number] = _solver.MakeConstraint(double.NegativeInfinity, limit);
            }
        }
    }

    /// <summary>Adds a load; false when one with these counts, no dearer, is there.</summary>
    public bool Add(Load load)
    {
        var source = _job.Sources[load.Stock];
        if (_counts is not null && !source.IsSingle && _counts[load.Stock] == 0)
        {
            return false;
        }

        if (!_known.Add($"{load.Key}:{load.Cost}"))
        {
            return false;
        }

        var use = _solver.MakeNumVar(0, double.PositiveInfinity, "");
        var price = _counts is null || source.IsSingle ? source.Price : 0;
        _solver.Objective().SetCoefficient(use, (load.Cost + price) / Grain.PerCurrency);
        var first = _job.FirstKind[source.ComponentIndex];
        for (var k = 0; k < load.Counts.Length; k++)
        {
            if (load.Counts[k] > 0)
            {
                _cover[first + k].SetCoefficient(use, load.Counts[k]);
            }
        }

        _stock[load.Stock]?.SetCoefficient(use, 1);
        return true;
    }

    /// <summary>Values of the kinds in grains, with the stocks' duals (≤ 0 where they are scarce); null when there is no solution.</summary>
    public (double[] Values, double[] Stocks, double Cost)? Solve()
    {
        if (_solver.Solve() != Solver.ResultStatus.OPTIMAL)
        {
            return null;
        }

        return (
            [.. _cover.Select(row => Math.Max(0, row.DualValue()) * Grain.PerCurrency)],
            [.. _stock.Select(row => row is null ? 0 : row.DualValue() * Grain.PerCurrency)],
            _solver.Objective().Value() * Grain.PerCurrency);
    }

    public void Dispose() => _solver.Dispose();
}
