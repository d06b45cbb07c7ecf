using System.Collections.Immutable;
using Nest.Solve.Choose;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Loads as layouts of a plan: kinds become parts again, cost is that of the cost model.</summary>
internal static class ExactPlan
{
    /// <summary>The layouts of one component.</summary>
    public static ImmutableArray<(Column Column, int Count)> ColumnsOf(ExactJob job, int component, IEnumerable<(Load Load, int Count)> plan)
    {
        var kinds = job.Kinds[component];
        var dealer = new BlankKinds.Dealer(kinds);
        var plain = kinds.Members.All(members => members.Length == 1);
        var columns = ImmutableArray.CreateBuilder<(Column, int)>();
        foreach (var (load, count) in plan.Where(entry => job.Sources[entry.Load.Stock].ComponentIndex == component))
        {
            if (plain)
            {
                columns.Add((ColumnOf(job, load, dealer), count));
                continue;
            }

            for (var copy = 0; copy < count; copy++)
            {
                columns.Add((ColumnOf(job, load, dealer), 1));
            }
        }

        return columns.ToImmutable();
    }

    private static Column ColumnOf(ExactJob job, Load load, BlankKinds.Dealer dealer)
    {
        var source = job.Sources[load.Stock];
        var component = source.Kinds.Component;
        if (source.Frame.IsBar)
        {
            var counts = new int[component.Items];
            for (var k = 0; k < load.Counts.Length; k++)
            {
                for (var n = 0; n < load.Counts[k]; n++)
                {
                    counts[dealer.Next(k)]++;
                }
            }

            return LayoutBuilder.Bar(component, source.StockIndex, counts);
        }

        if (load.Tree is null)
        {
            return source.Found.Of(load)!;
        }

        int[] items = [.. Enumerable.Range(0, component.Items)];
        return LayoutBuilder.Plate(component, source.StockIndex, items, new PlateLayout(source.StockIndex, 1, [], dealer.Deal(load.Tree!)));
    }
}
