using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Layouts of single loads of a plate that plans have, or that the heuristics make: what a load costs at most, and how it may be cut.</summary>
internal sealed class FoundLayouts(BlankKinds kinds, int stock)
{
    /// <summary>Work of the kernel for a layout, and of the search at its true cost.</summary>
    private const long KernelWork = 20_000;
    private const long AnnealingWork = 100_000;

    private readonly Dictionary<string, Column> _known = new(StringComparer.Ordinal);
    private readonly HashSet<string> _asked = new(StringComparer.Ordinal);

    /// <summary>Whether each kind is one part's: then a layout can be in any plan as it is.</summary>
    public bool ArePlain { get; } = kinds.Members.All(members => members.Length == 1);

    /// <summary>Takes in the layouts of a plan by component; null: there is none.</summary>
    public static void TakeIn(ExactJob job, IReadOnlyList<Chosen>? plan)
    {
        foreach (var source in plan is null ? [] : job.Sources)
        {
            foreach (var (column, _) in plan![source.ComponentIndex].Columns.Where(entry => entry.Column.Stock == source.StockIndex))
            {
                source.Found.Add(column);
            }
        }
    }

    /// <summary>Takes in a layout of a plan.</summary>
    public void Add(Column column)
    {
        var key = string.Join(',', kinds.CountsOf(column.Counts.AsSpan()));
        if (!_known.TryGetValue(key, out var known) || column.Cost < known.Cost)
        {
            _known[key] = column;
        }
    }

    /// <summary>The cheapest that is known; null: none is.</summary>
    public Column? Of(Load load) => _known.GetValueOrDefault(string.Join(',', load.Counts));

    /// <summary>Looks for one, once a load.</summary>
    public void LookFor(Load load, ExactMeter meter)
    {
        if (Of(load) is not null || meter.IsOver || !_asked.Add(load.Key))
        {
            return;
        }

        var component = kinds.Component;
        var quantities = new int[component.Items];
        for (var k = 0; k < kinds.Count; k++)
        {
            var left = load.Counts[k];
            foreach (var item in kinds.Members[k])
            {
                quantities[item] = Math.Min(left, component.Demand[item]);
                left -= quantities[item];
            }
        }

        var group = component.Groups.First(one => one.Stocks.Contains(stock));
        int?[] one = [.. Enumerable.Range(0, component.Stocks.Length).Select(s => (int?)(s == stock ? 1 : 0))];
        var effort = new SolveLimits { Seconds = Math.Min(3600, meter.SecondsLeft), Work = KernelWork };
        var columns = GroupSolver.Solve(component, group, quantities, one, effort, null, meter.Cancel).Columns;
        meter.Add((KernelWork + AnnealingWork) * ExactMeter.StepsPerUnit);
        if (columns is [(var column, 1)])
        {
            Take(column);
            var better = PlateAnnealing.Run(component, group, new(columns, [.. quantities.Select(_ => 0)]), one, effort with { Work = AnnealingWork }, double.PositiveInfinity, meter.Cancel);
            if (better is [(var cheaper, 1)])
            {
                Take(cheaper);
            }
        }

        void Take(Column found)
        {
            if (found.Counts.AsSpan().SequenceEqual(quantities))
            {
                Add(found);
            }
        }
    }
}
