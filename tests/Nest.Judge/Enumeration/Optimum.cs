using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>The true least cost of a tiny job, by trying everything: all stocks, orientations, layouts, counts and orders.</summary>
/// <remarks>Written without the planner's, the cost model's and the checker's code: only the job's values are read. So a rule
/// that is wrong there is not wrong here in the same way. The cost rules stand in <see cref="CostRules"/>.</remarks>
public sealed class Optimum
{
    /// <summary>By how many units of money the true optimum may be below the enumerated one: offcuts are rounded down each, which the
    /// argument for whole units does not see. No tiny layout has that many.</summary>
    public const long Rounding = 20;

    private readonly LoadSpace _loads;
    private readonly long[] _cost;
    private readonly int[] _kept;

    private Optimum(LoadSpace loads, long[] cost, int[] kept)
    {
        (_loads, _cost, _kept) = (loads, cost, kept);
    }

    /// <summary>Least cost of the whole demand; null: it cannot be cut.</summary>
    public Money? Cost => Amount(_loads.Full);

    /// <summary>Least cost of so many pieces of each part, in the job's order; null: they cannot be cut, or are more than asked.</summary>
    public Money? Of(IReadOnlyList<int> pieces) =>
        _loads.Number([.. pieces.Zip(_kept, (all, kept) => all - kept)]) is { } load ? Amount(load) : null;

    /// <summary>Most pieces that can be cut in all.</summary>
    public int MostPieces => Enumerable.Range(0, _loads.Count).Where(load => _cost[load] < ThroughCutTable.Never).Max(load => _loads.Totals[load]) + _kept.Sum();

    /// <summary>Enumerates the job.</summary>
    /// <exception cref="TooLargeException">The job is too large, or has something that is not enumerated.</exception>
    public static Optimum Of(Job job)
    {
        // Layouts that stay: their pieces and their stock are off the table; what they cost beside metal is the same in every plan.
        int[] kept = [.. job.Parts.Select(part => job.Kept.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.PartId == part.Id)))];
        var fixedCost = job.Kept.Sum(layout => (layout.Cost.Total.Units - (IsRack(layout.StockId) ? 0 : layout.Cost.Metal.Units)) * layout.Count);
        var loads = new LoadSpace([.. job.Parts.Select((part, kind) => (part.Gang?.Blanks ?? checked((part.Quantity * job.Batch) + part.Extra)) - kept[kind])]);
        if (loads.Count > 400)
        {
            throw new TooLargeException($"{loads.Count} loads are too many.");
        }

        var sources = Sources(job, loads);
        var cost = new Sizes(job, loads).Cheapest(sources);
        return new(loads, [.. cost.Select(one => one >= ThroughCutTable.Never ? one : one + fixedCost)], kept);

        bool IsRack(string id) => job.Stocks.First(stock => stock.Id == id).RackMark is not null;
    }

    /// <summary>All that a blank of the job can come from, with the least cost of each load on one piece.</summary>
    internal static List<Buying.Source> Sources(Job job, LoadSpace loads)
    {
        var sources = new List<Buying.Source>();
        foreach (var whole0 in job.Stocks)
        {
            var taken = job.Kept.Where(layout => layout.StockId == whole0.Id).Sum(layout => layout.Count);
            var stock = whole0 with { Available = whole0.Available - taken };
            var material = job.Materials.First(one => one.Id.Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase));
            var whole = stock.CutFor is null && CostRules.Keeps(CostRules.KeepRule(job, stock), stock, stock.MinLength, stock.MinWidth)
                ? CostRules.KeepWorth(job, stock, material) : (long?)null;
            var none = new long[loads.Count];
            Array.Fill(none, ThroughCutTable.Never);
            if ((Layouts(job, stock, material, loads) ?? (taken > 0 ? none : null)) is { } layouts && (taken > 0 || Serves(layouts)))
            {
                var load = stock.CutFor is null ? CostRules.Loading(CostRules.SawFor(job, stock)) : 0;
                sources.Add(new(stock, [.. layouts.Select(cost => cost >= ThroughCutTable.Never ? cost : cost + load)], whole) { Taken = taken });
            }
        }

        return sources;

        // Stock that no blank comes from is not bought, not even whole for the rack.
        bool Serves(long[] layouts) => Enumerable.Range(0, loads.Count).Any(load => loads.Totals[load] > 0 && layouts[load] < ThroughCutTable.Never);
    }

    private static long[]? Layouts(Job job, Stock stock, Material material, LoadSpace loads)
    {
        var saw = stock.CutFor is null ? CostRules.SawFor(job, stock) : null;
        if (stock.CutFor is null && saw is null)
        {
            return null;
        }

        var blanks = Blanks(job, stock, saw, loads);
        if (saw is null)
        {
            return CutToSize(stock, blanks, loads);
        }

        if (saw.Kind == SawKind.BarSaw)
        {
            return BarTable.Solve(job, stock, saw, material, blanks, loads);
        }

        var sheet = Sheet(job, stock, saw, material, blanks);
        return !sheet.CanBeTrimmed ? null
            : saw.Kind == SawKind.Cutter ? new CutterTable(sheet, loads).Solve() : ThroughCutTable.Solve(sheet, loads);
    }

    /// <summary>By part: what it needs of the stock; null where it does not come from it, or none is wanted.</summary>
    internal static SawnBlank?[] Blanks(Job job, Stock stock, Saw? saw, LoadSpace loads) =>
        [.. job.Parts.Select((part, kind) => loads.Demand[kind] == 0 ? null : SawnBlank.Of(job, part, stock, saw))];

    /// <summary>The plate in whole units, which need not divide what is too large anyway; what does not fit is found by the table.</summary>
    internal static PlateSheet Sheet(Job job, Stock stock, Saw saw, Material material, SawnBlank?[] blanks) => new(job, stock, saw, material,
        [.. blanks.Select(blank => blank is not null && Length.Max(blank.X, blank.Y) <= Length.Max(stock.MinLength, stock.MinWidth) ? blank : null)]);

    /// <summary>One piece is one blank, with nothing left to saw.</summary>
    private static long[] CutToSize(Stock stock, SawnBlank?[] blanks, LoadSpace loads)
    {
        var answer = new long[loads.Count];
        Array.Fill(answer, ThroughCutTable.Never);
        for (var kind = 0; kind < blanks.Length; kind++)
        {
            if (blanks[kind] is { } blank && (stock.Form != Form.Plate
                ? blank.X == stock.MinLength
                : (blank.X == stock.MinLength && blank.Y == stock.MinWidth)
                    || (blank.Turns && blank.Y == stock.MinLength && blank.X == stock.MinWidth)))
            {
                answer[loads.One(kind)] = blank.Facing;
            }
        }

        return answer;
    }

    private Money? Amount(int load) => _cost[load] >= ThroughCutTable.Never ? null : Money.FromUnits(_cost[load]);
}
