using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Solves one component: which form each blank comes from, and the layouts, at the least cost found, with a bound.</summary>
/// <remarks>
/// One group of bars only: the bar kernel alone, its bound is exact. Else: start plans by rule (each blank on its cheapest group, all on
/// one form, …) with the kernels; column generation over all groups for duals, new columns and the bound (<see cref="DualBound"/>);
/// the choosing model over all columns; then large-neighbourhood search: some layouts are emptied and their pieces, split anew
/// between the groups, are solved again by the kernels. Always a plan in hand; deterministic for the same effort when the clock does
/// not cut it short. Guarantee: heuristic plan, valid bound.
/// </remarks>
internal sealed class ComponentSolver
{
    private readonly Component _component;
    private readonly SolveLimits _limits;
    private readonly Action<Chosen, long> _improved;
    private readonly CancellationToken _cancel;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly ColumnPool _pool = new();
    private readonly Random _random;
    private readonly int[] _demand;
    private readonly int?[] _stockLimits;
    private readonly IStockPricer[] _pricers;
    private long[]? _values;

    /// <param name="improved">Called with each better plan and the bound so far.</param>
    public ComponentSolver(Component component, SolveLimits limits, Action<Chosen, long> improved, CancellationToken cancel)
    {
        _component = component;
        _limits = limits;
        _improved = improved;
        _cancel = cancel;
        _random = new(limits.Seed);
        _demand = [.. component.Blanks.Select(blank => blank.Demand)];
        _stockLimits = [.. component.Stocks.Select(frame => frame.Stock.Available)];
        _pricers = [.. Enumerable.Range(0, component.Stocks.Length).Select(s => StockPricers.For(component, s))];
    }

    public Chosen? Best { get; private set; }

    /// <summary>All layouts found.</summary>
    public IReadOnlyList<Column> Columns => _pool.Columns;

    /// <summary>No plan for this component costs less, in money units.</summary>
    public long Bound { get; private set; }

    private double Left => _limits.Seconds - _clock.Elapsed.TotalSeconds;

    private bool Done => _cancel.IsCancellationRequested || Left <= 0 || (Best is { MissingCount: 0 } best && best.Cost <= Bound);

    public void Run()
    {
        if (_component.Groups is [{ IsBar: true } only] && OnlyBars(only))
        {
            // The bar kernel has searched as long as it may: nothing here could do better.
            return;
        }

        if (_component.Groups is not [{ IsBar: true }])
        {
            StartPlans();
            Generate();
        }

        if (Done)
        {
            return;
        }

        Choose(3.0);
        if (Best is null)
        {
            // Limited stock: nothing at all may fit, and that is an answer too.
            Take([]);
        }

        Improve();
    }

    private bool OnlyBars(StockGroup group)
    {
        var answer = GroupSolver.Solve(
            _component, group, _demand, _stockLimits, _limits with { Seconds = Math.Max(0.1, Left) }, Take, _cancel);
        if (answer.Status == SolveStatus.Impossible || answer.Columns.IsEmpty)
        {
            // Not enough stock for all: the general way places as many as it can.
            Generate();
            return false;
        }

        Bound = Math.Max(Bound, answer.Bound);
        Take(answer.Columns);
        return true;
    }

    private void StartPlans()
    {
        var share = _component.Groups.Length == 1 ? 0.55 : 0.3 / Math.Max(2, _component.Groups.Length);
        var tried = new HashSet<string>(StringComparer.Ordinal);
        foreach (var preferred in Preferences())
        {
            var split = Split(_demand, preferred);
            if (Done || !tried.Add(string.Join(';', split.Select(row => string.Join(',', row)))))
            {
                continue;
            }

            SolveSplit(split, _stockLimits, [], Math.Max(0.2, share * _limits.Seconds), wholeJob: _component.Groups.Length == 1);
        }
    }

    /// <summary>Preferred group per item: cheapest by estimate, then each group as far as it serves.</summary>
    private IEnumerable<int[]> Preferences()
    {
        var cheapest = Enumerable.Range(0, _component.Items).Select(CheapestGroup).ToArray();
        yield return cheapest;
        for (var g = 0; g < _component.Groups.Length; g++)
        {
            var group = g;
            if (_component.Groups[group].Stocks.Any(s => _stockLimits[s] is null))
            {
                yield return [.. cheapest.Select((own, item) => GroupSolver.Serves(_component, _component.Groups[group], item) ? group : own)];
            }
        }
    }

    /// <summary>The group with the cheapest unlimited stock for the item by estimate (limited ones only where nothing else serves).</summary>
    private int CheapestGroup(int item)
    {
        var unlimited = Enumerable.Range(0, _component.Stocks.Length)
            .Any(s => _component.Fits[s, item] is not null && _stockLimits[s] is null);
        var best = (Group: 0, Cost: double.MaxValue);
        for (var g = 0; g < _component.Groups.Length; g++)
        {
            foreach (var s in _component.Groups[g].Stocks)
            {
                if (_component.Fits[s, item] is null || _stockLimits[s] == 0 || (unlimited && _stockLimits[s] is not null))
                {
                    continue;
                }

                var frame = _component.Stocks[s];
                var size = _component.Groups[g].IsBar
                    ? (_component.SizeX(s, item) + _component.Units(frame.Saw.Kerf)) / (double)_component.Units(frame.Usable.SizeX)
                    : (_component.SizeX(s, item) + _component.Units(frame.Saw.Kerf))
                        * (double)(_component.SizeY(s, item) + _component.Units(frame.Saw.Kerf))
                        / ((double)_component.Units(frame.Usable.SizeX) * _component.Units(frame.Usable.SizeY));
                // What is left over is worth less than what was bought: between price and lower cost lies the waste of a usual layout.
                var cost = _component.LowerCosts.Piece[s, item]
                    + (size * (frame.Stock.PiecePrice.Units + _component.LowerCosts.Stock[s]) / 2);
                if (cost < best.Cost)
                {
                    best = (g, cost);
                }
            }
        }

        return best.Group;
    }

    /// <summary>Quantities per group [group][item].</summary>
    private int[][] Split(ReadOnlySpan<int> quantities, int[] preferred)
    {
        var split = new int[_component.Groups.Length][];
        for (var g = 0; g < split.Length; g++)
        {
            split[g] = new int[_component.Items];
        }

        for (var i = 0; i < quantities.Length; i++)
        {
            split[preferred[i]][i] = quantities[i];
        }

        return split;
    }

    /// <summary>Solves each group for its share; with what is kept of a plan it becomes a whole plan.</summary>
    private bool SolveSplit(
        int[][] split, int?[] limits, IEnumerable<(Column, int)> kept, double seconds, bool wholeJob = false, long? work = null)
    {
        var all = new List<(Column Column, int Count)>(kept);
        var busy = split.Count(row => row.Any(n => n > 0));
        var complete = true;
        for (var g = 0; g < split.Length; g++)
        {
            if (split[g].All(n => n == 0))
            {
                continue;
            }

            var effort = _limits with
            {
                Seconds = Math.Max(0.05, Math.Min(seconds / Math.Max(1, busy), Left)),
                Work = work ?? _limits.Work,
                Seed = _random.Next(1, int.MaxValue),
            };
            var answer = GroupSolver.Solve(
                _component, _component.Groups[g], split[g], limits, effort, wholeJob ? Take : null, _cancel);
            if (wholeJob)
            {
                Bound = Math.Max(Bound, answer.Bound);
            }

            complete &= !answer.Columns.IsEmpty;
            all.AddRange(answer.Columns);
        }

        foreach (var (column, _) in all)
        {
            _pool.Add(column);
        }

        return complete && Offer(all);
    }

    /// <summary>Takes a plan that covers the demand (or leaves some out); keeps it when it is better.</summary>
    private void Take(ImmutableArray<(Column Column, int Count)> columns) => Offer(columns);

    private bool Offer(IReadOnlyCollection<(Column Column, int Count)> columns)
    {
        foreach (var (column, _) in columns)
        {
            _pool.Add(column);
        }

        var chosen = Surplus.TakeOut(_component, columns, _demand);
        if (!chosen.IsBetterThan(Best))
        {
            return false;
        }

        foreach (var (column, _) in chosen.Columns)
        {
            _pool.Add(column);
        }

        Best = chosen;
        _improved(chosen, Bound);
        return true;
    }

    /// <summary>Column generation over all stocks of the component.</summary>
    private void Generate()
    {
        var missing = 4.0 * Math.Max(1, _component.LowerCosts.Stock.DefaultIfEmpty(1).Max() + Largest());
        using var master = new ColumnMaster(_component, _demand, missing);
        var known = 0;
        var until = _clock.Elapsed.TotalSeconds + (0.25 * Math.Max(0, Left));
        for (var round = 0; round < 400 && !_cancel.IsCancellationRequested; round++)
        {
            for (; known < _pool.Columns.Count; known++)
            {
                master.Add(_pool.Columns[known]);
            }

            if (master.Solve() is not { } duals)
            {
                return;
            }

            var values = duals.Blanks.Select(value => (long)Math.Floor(value * IStockPricer.Scale)).ToArray();
            var best = new long[_component.Stocks.Length];
            var found = false;
            for (var s = 0; s < best.Length; s++)
            {
                var (columns, upper) = _pricers[s].Price(values, 8);
                best[s] = upper;
                var threshold = ((double)_component.LowerCosts.Stock[s] + duals.Stocks[s]) * IStockPricer.Scale;
                foreach (var column in columns)
                {
                    // Worth more than it costs by at least a hundredth of a cent per blank, or the loop would chase rounding.
                    var worth = column.Counts.Select((n, i) => (double)n * values[i]).Sum() - (column.LowerCost * (double)IStockPricer.Scale);
                    var price = worth - (duals.Stocks[s] * IStockPricer.Scale);
                    if (price > 1e-6 * threshold + IStockPricer.Scale && _pool.Add(column))
                    {
                        found = true;
                    }
                }
            }

            _values = values;
            if (_component.LowerCosts.Valid)
            {
                Bound = Math.Max(Bound, DualBound.Of(_component, values, _demand, best));
            }

            if (!found || _clock.Elapsed.TotalSeconds > until)
            {
                return;
            }
        }

        double Largest()
        {
            long largest = 0;
            foreach (var piece in _component.LowerCosts.Piece)
            {
                largest = Math.Max(largest, piece);
            }

            return largest;
        }
    }

    /// <summary>The choosing model over all columns.</summary>
    private void Choose(double deterministicTime)
    {
        // A model with tens of thousands of columns only wastes its time: the cheapest per value of what they cut are kept.
        var columns = _pool.Columns;
        if (columns.Count > 4000 && _values is { } values)
        {
            columns = [.. columns.OrderBy(c => c.LowerCost - c.Counts.Select((n, i) => (double)n * values[i] / IStockPricer.Scale).Sum()).Take(4000)];
        }

        var hint = Best?.Columns.GroupBy(entry => entry.Column.Key).ToDictionary(g => g.Key, g => g.Sum(e => e.Count), StringComparer.Ordinal);
        var counts = PatternModel.Choose(
            _component, columns, _demand, _stockLimits, deterministicTime, Math.Max(0, Math.Min(Left, 0.3 * _limits.Seconds)),
            _limits.Seed, hint, _cancel);
        if (counts is not null)
        {
            Take([.. counts.Select((count, p) => (columns[p], count)).Where(entry => entry.count > 0)]);
        }
    }

    /// <summary>Large-neighbourhood search until the limit, the proof, or a long time without a better plan.</summary>
    private void Improve()
    {
        var idle = 0;
        var patience = 60 + (4 * _component.Items);
        for (var round = 1; !Done && idle < patience; round++)
        {
            var before = Best!;
            Neighbourhood();
            if (round % 40 == 0 && !Done)
            {
                Choose(1.0);
            }

            idle = ReferenceEquals(before, Best) ? idle + 1 : 0;
        }
    }

    private void Neighbourhood()
    {
        var copies = Best!.Columns.SelectMany(entry => Enumerable.Repeat(entry.Column, entry.Count)).ToList();
        if (copies.Count == 0 && Best.MissingCount == 0)
        {
            return;
        }

        // Weak layouts (dear for what they cut) are emptied more often.
        var take = Math.Min(copies.Count, 1 + _random.Next(Math.Clamp(copies.Count, 1, 5)));
        var ranked = copies.Select((column, at) => (at, key: Weakness(column) * (0.3 + _random.NextDouble())))
            .OrderByDescending(entry => entry.key).Take(take).Select(entry => entry.at).ToHashSet();
        var freed = Best.Missing.ToArray();
        var limits = (int?[])_stockLimits.Clone();
        var kept = new List<(Column, int)>();
        for (var c = 0; c < copies.Count; c++)
        {
            if (ranked.Contains(c))
            {
                for (var i = 0; i < freed.Length; i++)
                {
                    freed[i] += copies[c].Counts[i];
                }
            }
            else
            {
                kept.Add((copies[c], 1));
                limits[copies[c].Stock]--;
            }
        }

        var preferred = new int[_component.Items];
        for (var i = 0; i < preferred.Length; i++)
        {
            preferred[i] = PickGroup(i, copies, ranked);
        }

        SolveSplit(Split(freed, preferred), limits, kept, Math.Min(0.5, 0.08 * _limits.Seconds), work: 150_000);
    }

    private int PickGroup(int item, List<Column> copies, HashSet<int> emptied)
    {
        var serving = Enumerable.Range(0, _component.Groups.Length)
            .Where(g => GroupSolver.Serves(_component, _component.Groups[g], item)).ToList();
        if (serving.Count == 1 || _random.Next(3) == 0)
        {
            return serving[_random.Next(serving.Count)];
        }

        // Mostly where it was: the neighbours of a good plan are good.
        foreach (var at in emptied.Order())
        {
            if (copies[at].Counts[item] > 0)
            {
                return serving.Find(g => _component.Groups[g].Stocks.Contains(copies[at].Stock));
            }
        }

        return CheapestGroup(item);
    }

    private double Weakness(Column column)
    {
        if (_values is not { } values)
        {
            return 1;
        }

        var worth = column.Counts.Select((n, i) => (double)n * values[i]).Sum() / IStockPricer.Scale;
        return Math.Max(1.0, column.Cost) / Math.Max(1.0, worth);
    }
}
