using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>What the search of one component has found: the best plan, the bound, and all layouts.</summary>
/// <param name="demand">Pieces of each item of the component.</param>
/// <param name="improved">Called with each better plan and the bound so far.</param>
internal sealed class ComponentFindings(Component component, int[] demand, Action<Chosen, Bound> improved)
{
    private const int MostInModel = 4000;

    public Chosen? Best { get; private set; }

    /// <summary>No plan for this component costs less.</summary>
    public Bound Bound { get; private set; }

    /// <summary>All layouts found.</summary>
    public ColumnPool Pool { get; } = new();

    /// <inheritdoc cref="Pool"/>
    public IReadOnlyList<Column> Columns => Pool.Columns;

    public bool IsProven => Best is { MissingCount: 0 } best && Bound.Value is { } bound && !Contradictions.Found(Bound, Money.FromUnits(best.Cost))
        && best.Cost - bound.Units < component.Enough;

    public void Raise(Bound bound) => Bound = Bound.Higher(Bound, bound);

    /// <summary>The bound may have risen without a better plan.</summary>
    public void Tell()
    {
        if (Best is { } best)
        {
            improved(best, Bound);
        }
    }

    public void AddAll(IEnumerable<Column> columns)
    {
        foreach (var column in columns)
        {
            Pool.Add(column);
        }
    }

    /// <summary>Takes a plan that covers the demand (or leaves some out); keeps it when it is better.</summary>
    /// <returns>Whether it is.</returns>
    public bool Offer(IReadOnlyCollection<(Column Column, int Count)> columns)
    {
        AddAll(columns.Select(entry => entry.Column));
        var chosen = Surplus.TakeOut(component, columns, demand);
        if (!chosen.IsBetterThan(Best))
        {
            return false;
        }

        AddAll(chosen.Columns.Select(entry => entry.Column));
        Best = chosen;
        improved(chosen, Bound);
        return true;
    }

    /// <summary>The choosing model over all layouts found.</summary>
    /// <param name="values">Of the blanks; null: not known.</param>
    /// <param name="deterministicTime">What the model may take, where the seconds do not end first.</param>
    public void Choose(int?[] stockLimits, long[]? values, int seed, double deterministicTime, double seconds, CancellationToken cancel)
    {
        // A model with tens of thousands of columns only wastes its time: the cheapest per value of what they cut are kept.
        var columns = Columns;
        if (columns.Count > MostInModel && values is not null)
        {
            columns = [.. columns.OrderBy(c => c.LowerCost - (c.Worth(values) / IStockPricer.Scale)).Take(MostInModel)];
        }

        var hint = Best?.Columns.GroupBy(entry => entry.Column.Key).ToDictionary(g => g.Key, g => g.Sum(e => e.Count), StringComparer.Ordinal);
        if (PatternModel.Choose(component, columns, demand, stockLimits, deterministicTime, seconds, seed, hint, cancel) is { } counts)
        {
            Offer([.. counts.Select((count, p) => (columns[p], count)).Where(entry => entry.count > 0)]);
        }
    }
}
