using System.Collections.Immutable;
using System.Globalization;
using Google.OrTools.Sat;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>The choosing model with the suppliers' terms: it ties all components together.</summary>
/// <remarks>
/// minimise Σ_p (cost_p − metal_p) x_p + Σ_p setUp_p z_p + M Σ u + what <see cref="OrderTerms"/> makes of y_s = Σ_{p on s} x_p
/// subject to x_p ≤ most_p z_p (where settings are wanted) and Σ_p a_ip x_p + u_i ≥ d_i (= where every layout is there: then nothing is ever cut beyond the demand).
/// Parts whose stocks are tied (<see cref="SizeGroups"/>): the pieces f_ig that count from group g, f_ig ≤ Σ_{p on g} a_ip x_p and ≤ d_i b_ig, cover
/// the demand; each group beyond the first costs its charge, or only one is allowed. Pieces from other groups are taken out of the layouts.
/// CP-SAT, one worker, fixed seed, deterministic limit. Optimal over the given columns only; where they are all there are, its bound is
/// one for the job.
/// </remarks>
internal sealed class JointModel
{
    private readonly ImmutableArray<Component> _components;
    private readonly ImmutableArray<ImmutableArray<Column>> _columns;
    private readonly CpModel _model = new();
    private readonly List<IntVar[]> _use = [];
    private readonly OrderTerms _terms;
    private readonly bool _setUps;
    private readonly List<Dictionary<(int Item, int Group), BoolVar>> _groups = [];

    /// <param name="columns">Per component, costed with the listed price of one piece as metal.</param>
    /// <param name="exact">Per component: the columns are all there are.</param>
    /// <param name="lower">Take the columns' lower costs: for a bound.</param>
    /// <param name="setUps">Count what setting fence and stop costs, once per column that is used.</param>
    public JointModel(
        Job job, ImmutableArray<Component> components, ImmutableArray<ImmutableArray<Column>> columns, ImmutableArray<bool> exact,
        bool lower = false, bool setUps = false)
    {
        _setUps = setUps;
        _components = components;
        _columns = columns;
        var objective = LinearExpr.NewBuilder();
        _terms = new(job, _model, objective);
        for (var c = 0; c < components.Length; c++)
        {
            Cover(c, exact[c], lower, objective);
        }

        _terms.Build();
        _model.Minimize(objective);
    }

    /// <summary>Columns with counts per component, and whole pieces bought for the rack; nothing when nothing was found in time.</summary>
    /// <param name="hint">Per component, how often each column (by key) is used in a known plan.</param>
    public Answer? Solve(
        double deterministicTime, double seconds, int seed, ImmutableArray<Dictionary<string, int>>? hint, CancellationToken cancel)
    {
        if (hint is { } known)
        {
            for (var c = 0; c < _use.Count; c++)
            {
                for (var p = 0; p < _use[c].Length; p++)
                {
                    _model.AddHint(_use[c][p], known[c].GetValueOrDefault(_columns[c][p].Key));
                }
            }
        }

        using var solver = new CpSolver();
        solver.StringParameters = string.Create(
            CultureInfo.InvariantCulture,
            $"{CpSat.Always}num_workers:1 random_seed:{seed} max_deterministic_time:{deterministicTime} max_time_in_seconds:{seconds} linearization_level:2");
        using var registration = cancel.Register(solver.StopSearch);
        var status = solver.Solve(_model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            return null;
        }

        var chosen = _use.Select((use, c) => use
            .Select((variable, p) => (Column: Allowed(c, _columns[c][p], solver), Count: (int)solver.Value(variable)))
            .Where(entry => entry.Count > 0 && entry.Column is not null).Select(entry => (entry.Column!, entry.Count)).ToImmutableArray()).ToImmutableArray();

        // All coefficients are whole: so is the least cost, and rounding the reported bound up from just below it is safe.
        return new(chosen, _terms.Extras(solver), Money.FromUnits((long)Math.Ceiling(solver.BestObjectiveBound - 1e-3)));
    }

    /// <param name="Bound">No choice of the model's columns costs less.</param>
    internal sealed record Answer(
        ImmutableArray<ImmutableArray<(Column Column, int Count)>> Chosen, ImmutableArray<(StockFrame Frame, int Count)> Extras, Money Bound);

    /// <summary>The column without pieces of parts that come from other groups of stock in this solution; null: nothing is left.</summary>
    private Column? Allowed(int c, Column column, CpSolver solver)
    {
        var (component, one) = (_components[c], column);
        foreach (var ((item, group), used) in _groups[c].OrderBy(entry => entry.Key))
        {
            if (one is not null && one.Counts[item] > 0 && component.Sizes.Of(one.Stock, item) == group && !solver.BooleanValue(used))
            {
                one = Surplus.Without(component, one, item, one.Counts[item]);
            }
        }

        return one;
    }

    private void Cover(int c, bool exact, bool lower, LinearExprBuilder objective)
    {
        var component = _components[c];
        var columns = _columns[c];
        var use = new IntVar[columns.Length];
        var demand = component.Demand;
        for (var p = 0; p < columns.Length; p++)
        {
            var column = columns[p];
            var most = exact ? int.MaxValue : 0;
            for (var i = 0; i < demand.Length; i++)
            {
                var per = column.Counts[i];
                if (per > 0)
                {
                    most = exact ? Math.Min(most, demand[i] / per) : Math.Max(most, (demand[i] + per - 1) / per);
                }
            }

            use[p] = _model.NewIntVar(0, most, "");
            var frame = component.Stocks[column.Stock];
            objective.AddTerm(use[p], (lower ? column.LowerCost : column.Cost) - column.Layout.Cost.Metal.Units);
            _terms.Used(frame, demand.Sum()).Add(use[p]);
            if (_setUps && column.SetUp(component) is > 0 and var setUp)
            {
                var used = _model.NewBoolVar("");
                _model.Add(use[p] <= LinearExpr.Term(used, most));
                objective.AddTerm(used, setUp);
            }
        }

        var dearest = columns.Length == 0 ? 1 : columns.Max(column => Math.Max(1, column.Cost));
        var groups = new Dictionary<(int Item, int Group), BoolVar>();
        for (var i = 0; i < demand.Length; i++)
        {
            var missing = _model.NewIntVar(0, demand[i], "");
            var sum = LinearExpr.NewBuilder().Add(missing);
            if (component.Sizes.Matters(i) && demand[i] > 0)
            {
                Groups(component, i, columns, use, groups, sum, objective);
            }
            else
            {
                for (var p = 0; p < columns.Length; p++)
                {
                    sum.AddTerm(use[p], columns[p].Counts[i]);
                }
            }

            _model.Add(exact ? sum == demand[i] : sum >= demand[i]);
            objective.AddTerm(missing, checked((dearest * 4) + (10_000 * Money.UnitsPerCurrency)));
        }

        _use.Add(use);
        _groups.Add(groups);
    }

    /// <summary>Adds the pieces of an item that count to its cover, group by group.</summary>
    private void Groups(
        Component component, int i, ImmutableArray<Column> columns, IntVar[] use, Dictionary<(int Item, int Group), BoolVar> groups,
        LinearExprBuilder cover, LinearExprBuilder objective)
    {
        var (sizes, demand) = (component.Sizes, component.Demand[i]);
        for (var g = 0; g < sizes.Number[i]; g++)
        {
            var cut = LinearExpr.NewBuilder();
            for (var p = 0; p < columns.Length; p++)
            {
                if (columns[p].Counts[i] > 0 && sizes.Of(columns[p].Stock, i) == g)
                {
                    cut.AddTerm(use[p], columns[p].Counts[i]);
                }
            }

            var used = groups[(i, g)] = _model.NewBoolVar("");
            var counted = _model.NewIntVar(0, demand, "");
            _model.Add(counted <= cut);
            _model.Add(counted <= LinearExpr.Term(used, demand));
            cover.Add(counted);
        }

        // What a layout that stays uses is used already.
        var all = groups.Where(entry => entry.Key.Item == i && !sizes.IsKept(i, entry.Key.Group)).Select(entry => entry.Value).ToList();
        var kept = sizes.KeptGroups(i);
        objective.Add(sizes.Charge * Math.Max(0, kept - 1));
        if (sizes.OnlyOne[i])
        {
            _model.Add(LinearExpr.Sum(all) <= (kept == 0 ? 1 : 0));
        }
        else
        {
            // Nothing is charged for the first; a part that is left out altogether has no group.
            var further = _model.NewIntVar(0, all.Count, "");
            _model.Add(further >= LinearExpr.NewBuilder().Add(LinearExpr.Sum(all)).Add(kept == 0 ? -1 : 0));
            objective.AddTerm(further, sizes.Charge);
        }
    }
}
