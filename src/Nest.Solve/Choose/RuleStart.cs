using System.Collections.Immutable;
using Nest.Core.Blanks;

namespace Nest.Solve.Choose;

/// <summary>Solves a component by a rule that leaves it fewer stocks, and brings plan and layouts back as its own.</summary>
/// <remarks>The restricted blanks may fall apart into several components: each is solved by itself. What was proven of them holds for
/// the restricted problem only and is not used.</remarks>
internal static class RuleStart
{
    /// <param name="Plan">Null when some part found no plan.</param>
    internal sealed record Answer(ImmutableArray<(Column Column, int Count)>? Plan, ImmutableArray<Column> Columns);

    /// <param name="restricted">The component's blanks, in its order, with fewer fits.</param>
    public static Answer Solve(Component whole, ImmutableArray<Blank> restricted, SolveLimits limits, CancellationToken cancel)
    {
        var parts = Components.Of(whole.Job, restricted);
        var plan = ImmutableArray.CreateBuilder<(Column, int)>();
        var columns = ImmutableArray.CreateBuilder<Column>();
        var complete = parts.Sum(part => part.Items) == whole.Items;
        ComponentQueue.Run([.. parts.Select(ComponentQueue.Weight)], limits.Seconds, 1, (p, seconds) =>
        {
            var solver = new ComponentSolver(parts[p], limits with { Seconds = seconds, Threads = parts.Length == 1 ? limits.Threads : 1 }, (_, _) => { }, cancel);
            solver.Run();
            columns.AddRange(solver.Columns.Select(column => Import(whole, parts[p], column)));
            complete &= solver.Best is { MissingCount: 0 };
            plan.AddRange(solver.Best?.Columns.Select(entry => (Import(whole, parts[p], entry.Column), entry.Count)) ?? []);
        });
        return new(complete ? plan.ToImmutable() : null, columns.ToImmutable());
    }

    /// <summary>The same layout as a column of the whole component.</summary>
    public static Column Import(Component whole, Component part, Column column)
    {
        var stock = 0;
        while (whole.Stocks[stock].Stock.Id != column.Layout.StockId)
        {
            stock++;
        }

        var counts = new int[whole.Items];
        for (var i = 0; i < part.Items; i++)
        {
            counts[part.BlankIndices[i]] = column.Counts[i];
        }

        return new(stock, [.. counts], column.Cost, whole.LowerCosts.Of(stock, counts, column.Cost), column.Layout);
    }

    /// <summary>The component's share of a rule: its blanks with the rule's fits; null when the rule leaves them as they are.</summary>
    public static ImmutableArray<Blank>? Of(Component component, Restriction rule)
    {
        var own = component.BlankIndices.Select(i => rule.Blanks[i]).ToImmutableArray();
        return own.Select((blank, i) => blank.Fits.Length != component.Blanks[i].Fits.Length).Any(changed => changed) ? own : null;
    }
}
