using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Chooses once more among the layouts that cost least for what they cut, with what setting fence and stop costs once for each layout: fewer different
/// layouts may be worth some metal.</summary>
/// <remarks>The searches before it go without settings. One model over <see cref="Most"/> layouts and those of the best plan. Guarantee: never dearer than that plan.</remarks>
internal static class FewSettings
{
    /// <summary>Layouts of a component that are chosen from.</summary>
    private const int Most = 250;

    /// <summary>Part of a layout's settings that counts when the layouts are picked: it is shared by all that are cut alike.</summary>
    private const double Shared = 0.25;

    /// <summary>Seconds that the model has at least.</summary>
    private const double Least = 0.2;

    /// <summary>Of a component.</summary>
    /// <param name="values">Values of the blanks; null: not known.</param>
    public static Chosen Of(
        Component component, Chosen best, IEnumerable<Column> columns, long[]? values, int[] demand, int?[] stockLimits, SolveLimits limits, CancellationToken cancel)
    {
        if (best.Columns.All(entry => entry.Column.SetUp(component) == 0))
        {
            return best;
        }

        var some = Picked(component, best, columns, values, cancel);
        var hint = best.Columns.GroupBy(entry => entry.Column.Key).ToDictionary(g => g.Key, g => g.Sum(e => e.Count), StringComparer.Ordinal);
        var counts = PatternModel.Choose(
            component, some, demand, stockLimits, 2.0 * limits.Effort, Seconds(limits), limits.Seed, hint, cancel, setUps: true);
        if (counts is null)
        {
            return best;
        }

        var other = Surplus.TakeOut(component, counts.Select((count, p) => (some[p], count)).Where(entry => entry.count > 0), demand);
        return other.MissingCount == 0 && Total(other) < Total(best) ? other : best;

        long Total(Chosen plan) => plan.Cost + plan.SetUps(component);
    }

    /// <summary>Of a job with purchase terms.</summary>
    /// <param name="columns">By component.</param>
    /// <param name="values">By component; null: not known.</param>
    /// <param name="left">Seconds that are left of the job's limit.</param>
    public static JointModel.Answer? Of(
        Job job, ImmutableArray<Component> components, JointPlan best, Func<int, IEnumerable<Column>> columns, Func<int, long[]?> values, double left, SolveLimits limits,
        CancellationToken cancel)
    {
        var some = components.Select((component, c) => Picked(component, best.Parts[c]!, columns(c), values(c), cancel)).ToImmutableArray();
        return new JointModel(job, components, some, [.. components.Select(_ => false)], setUps: true).Solve(4.0 * limits.Effort, Math.Min(Seconds(limits), Math.Max(Least, left)), limits.Seed, best.Hint, cancel);
    }

    private static ImmutableArray<Column> Picked(Component component, Chosen best, IEnumerable<Column> columns, long[]? values, CancellationToken cancel)
    {
        var found = values is not null
            ? columns.OrderBy(column => (column.Cost + (column.SetUp(component) * Shared) - (column.Worth(values) / IStockPricer.Scale)) / column.Counts.Sum())
            : columns.OrderBy(column => (double)column.Cost / column.Counts.Sum());
        ImmutableArray<Column> some = [.. best.Columns.Select(entry => entry.Column).Concat(found.Take(Most)).DistinctBy(column => column.Key)];
        return FewStops.EveryLoad(component, cancel).ToList() is { Count: > 0 } every
            ? [.. some.Concat(every).GroupBy(column => column.Key, StringComparer.Ordinal).Select(alike => alike.MinBy(column => column.Cost + column.SetUp(component))!)]
            : FewStops.Of(component, some);
    }

    private static double Seconds(SolveLimits limits) => Math.Max(Least, 0.1 * limits.Seconds);
}
