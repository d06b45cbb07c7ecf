using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Every layout of a small component, so that the choosing model over them is exact.</summary>
/// <remarks>Count vectors up to the demand, by depth-first search; a bar's fit is a sum, a plate's is asked of the plate kernel (one
/// plate of that kind). Gives up, with nothing, beyond <see cref="Most"/> vectors per stock: the columns of the searches serve then.
/// O(vectors · kernel).</remarks>
internal static class AllColumns
{
    private const int Most = 400;

    public static ImmutableArray<Column> Of(Component component, SolveLimits limits, CancellationToken cancel)
    {
        double vectors = 1;
        foreach (var blank in component.Blanks)
        {
            vectors *= blank.Demand + 1;
        }

        if (vectors > Most || component.Stocks.Length > 40)
        {
            return [];
        }

        var columns = ImmutableArray.CreateBuilder<Column>();
        foreach (var group in component.Groups)
        {
            foreach (var s in group.Stocks)
            {
                Enumerate(component, group, s, limits, columns, cancel);
            }
        }

        return columns.ToImmutable();
    }

    private static void Enumerate(
        Component component, StockGroup group, int s, SolveLimits limits, ImmutableArray<Column>.Builder columns, CancellationToken cancel)
    {
        var one = new int?[component.Stocks.Length];
        Array.Fill(one, 0);
        one[s] = 1;
        var counts = new int[component.Items];
        Visit(0);

        void Visit(int item)
        {
            if (item == counts.Length)
            {
                Try();
                return;
            }

            var most = component.Fits[s, item] is null ? 0 : component.Blanks[item].Demand;
            for (var n = 0; n <= most; n++)
            {
                counts[item] = n;
                Visit(item + 1);
            }

            counts[item] = 0;
        }

        void Try()
        {
            if (counts.All(n => n == 0) || TooLarge() || cancel.IsCancellationRequested)
            {
                return;
            }

            var answer = GroupSolver.Solve(
                component, group, counts, one, limits with { Seconds = 0.5, Work = 200_000 }, null, cancel);
            if (answer.Status is SolveStatus.Proven or SolveStatus.BestFound && answer.Columns is [{ Count: 1 } single])
            {
                columns.Add(single.Column);
            }
        }

        bool TooLarge()
        {
            var frame = component.Stocks[s];
            double size = 0;
            for (var i = 0; i < counts.Length; i++)
            {
                if (counts[i] > 0)
                {
                    var fit = component.Fits[s, i]!;
                    size += counts[i] * (double)fit.SizeX.Nanometres * (frame.IsBar ? 1.0 : fit.SizeY.Nanometres);
                }
            }

            return size > frame.Usable.SizeX.Nanometres * (frame.IsBar ? 1.0 : frame.Usable.SizeY.Nanometres);
        }
    }
}
