using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;

namespace Nest.Judge.Settings;

/// <summary>Least cost of a tiny job where settings of fence and stop have a price.</summary>
/// <param name="Cost">Null: nothing was found that makes all pieces.</param>
/// <param name="IsExact">Whether no plan can cost less. Else the trees of its plates are a family (<see cref="PlateTrees"/>): plans that there are, among which the cheapest need not be.</param>
/// <remarks>All multisets of layouts that hold just the demand; their settings in the best order on each saw (<see cref="SawOrder"/>); their stock at the exact terms of purchase. The same load
/// cut from the same stock in two ways is never cheaper than in one: the second layout costs one setting at least, and what stands before it still stands behind it, or it costs two.
/// Free of the planner's and the checker's code. Exponential; for up to four pieces.</remarks>
public sealed record SettledOptimum(Money? Cost, bool IsExact)
{
    private const int MostPlans = 200_000;

    /// <summary>Enumerates a job without fuss for sizes and without layouts that stay.</summary>
    /// <exception cref="TooLargeException">It is too large.</exception>
    public static SettledOptimum Of(Job job)
    {
        var loads = new LoadSpace([.. job.Parts.Select(part => checked((part.Quantity * job.Batch) + part.Extra))]);
        var sources = Optimum.Sources(job, loads);
        var options = sources.SelectMany((source, at) => Layouts(job, source, at, loads)).ToList();
        var buying = new Buying(job, loads);
        var metal = new Dictionary<string, long>(StringComparer.Ordinal);
        var (count, chosen, pieces) = (new int[sources.Count], new List<Option>(), new List<int>());
        var (best, plans) = (ThroughCutTable.Never, 0);
        Choose(0, loads.Full);
        var exact = !sources.Exists(source => source.Stock.CutFor is null && CostRules.SawFor(job, source.Stock)!.Kind == SawKind.PlateSaw);
        return new(best >= ThroughCutTable.Never ? null : Money.FromUnits(best), exact);

        void Choose(int at, int left)
        {
            if (left == 0)
            {
                Judge();
                return;
            }

            if (at == options.Count)
            {
                return;
            }

            Choose(at + 1, left);
            var option = options[at];
            var most = Enumerable.Range(0, loads.Demand.Length).Where(kind => loads.Of(option.Load, kind) > 0).Min(kind => loads.Of(left, kind) / loads.Of(option.Load, kind));
            chosen.Add(option);
            for (var copies = 1; copies <= most; copies++)
            {
                pieces.Add(copies);
                count[option.Source] += copies;
                Choose(at + 1, left - (copies * option.Load));
                count[option.Source] -= copies;
                pieces.RemoveAt(pieces.Count - 1);
            }

            chosen.RemoveAt(chosen.Count - 1);
        }

        void Judge()
        {
            plans++;
            if (plans > MostPlans)
            {
                throw new TooLargeException("There are too many plans.");
            }

            var key = string.Join(' ', count);
            if (!metal.TryGetValue(key, out var cost))
            {
                metal[key] = cost = buying.Metal(sources, count);
            }

            if (cost >= ThroughCutTable.Never)
            {
                return;
            }

            foreach (var saw in chosen.Select((option, at) => (Option: option, Pieces: pieces[at])).GroupBy(one => one.Option.Saw?.Id))
            {
                var price = saw.First().Option.Price;
                cost += new SawOrder([.. saw.Select(one => one.Option.Ways)], [.. saw.Select(one => one.Pieces)], price).Least();
            }

            best = Math.Min(best, cost);
        }
    }

    private static IEnumerable<Option> Layouts(Job job, Buying.Source source, int number, LoadSpace loads)
    {
        var stock = source.Stock;
        var saw = stock.CutFor is null ? CostRules.SawFor(job, stock) : null;
        var price = CostRules.Setting(saw);
        var blanks = Optimum.Blanks(job, stock, saw, loads);
        var sheet = saw?.Kind == SawKind.PlateSaw
            ? Optimum.Sheet(job, stock, saw, job.Materials.First(one => one.Id.Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase)), blanks) : null;
        for (var load = 1; load < loads.Count; load++)
        {
            var cost = source.Layout[load];
            if (cost >= ThroughCutTable.Never)
            {
                continue;
            }

            var ways = sheet is not null ? Trees(sheet, loads, load, CostRules.Loading(saw))
                : saw?.Kind == SawKind.BarSaw ? BarWays.Of(job, stock, saw, blanks, loads, load, cost)
                : [new CutWay(cost, 0, null, null)];
            if (CutWay.Best(ways, price) is { Length: > 0 } some)
            {
                yield return new(number, load, saw, price, some);
            }
        }
    }

    private static IEnumerable<CutWay> Trees(PlateSheet sheet, LoadSpace loads, int load, long loading)
    {
        var ways = new PlateWays(sheet, loads);
        return new PlateTrees(sheet, loads).Of(load).Select(tree => ways.Of(tree, load, loading));
    }

    /// <summary>A load on a stock, with the ways to cut it that may be the best.</summary>
    private sealed record Option(int Source, int Load, Saw? Saw, long Price, CutWay[] Ways);
}
