using Nest.Core.Blanks;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;
using Nest.Solve;
using Nest.Solve.Spares;

namespace Nest.Judge;

/// <summary>What can be said of a plan with free spares without the planner's code: the plan of the needed pieces is judged as any other, no spare takes metal, and no place for one is left
/// where the scrap is large enough.</summary>
/// <remarks>How many spares could be cut at most is not enumerated: the fill claims no most. A place is missed where the saw's own limits do not forbid it: on bars as the vise holds; plates
/// are looked at where they have no damage, cuts may alternate as often as they like and be as long, and the blank is long enough for the clamp either way.</remarks>
/// <param name="Verdict">What the enumeration says of the plan, and all that is wrong with its spares.</param>
/// <param name="Spares">How many the plan has.</param>
public sealed record SparesVerdict(Verdict Verdict, int Spares)
{
    /// <summary>Plans the job and judges plan and spares.</summary>
    /// <exception cref="TooLargeException">The job cannot be enumerated.</exception>
    public static SparesVerdict Of(Job job, SolveLimits limits)
    {
        var optimum = Enumeration.Optimum.Of(job);
        var (bare, raw) = Verdict.Planned(job, limits);
        var plan = FreeSpares.Lay(bare, BlankSizer.Size(job));
        var verdict = Verdict.Of(job, optimum, plan, raw);
        List<string> wrong = [.. verdict.Wrong];
        foreach (var stock in job.Stocks)
        {
            var (with, without) = (Taken(plan, stock), Taken(bare, stock));
            if (with != without)
            {
                wrong.Add($"{with} pieces of {stock.Id} are cut, {without} without spares");
            }

            var (kept, before) = (Kept(plan, stock), Kept(bare, stock));
            if (kept.Area < before.Area || kept.Worth < before.Worth)
            {
                wrong.Add($"offcuts of {stock.Id} worth {kept.Worth} units are kept, {before.Worth} without spares");
            }
        }

        if (!plan.Orders.SequenceEqual(bare.Orders, OrderComparer.Same))
        {
            wrong.Add("other goods are ordered than without spares");
        }

        wrong.AddRange(Missed(plan));
        return new(verdict with { Wrong = wrong }, plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.Spare)));
    }

    private static int Taken(Plan plan, Stock stock) => plan.Layouts.Where(layout => layout.StockId == stock.Id).Sum(layout => layout.Count);

    /// <summary>What stays of a stock by this judge's own rule.</summary>
    private static (Int128 Area, long Worth) Kept(Plan plan, Stock stock)
    {
        var material = plan.Job.Materials.First(one => one.Id.Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase));
        var worth = CostRules.KeepWorth(plan.Job, stock, material);
        var (area, sum) = ((Int128)0, 0L);
        foreach (var layout in plan.Layouts.Where(layout => layout.StockId == stock.Id))
        {
            foreach (var offcut in layout.Offcuts.Where(offcut => CostRules.Keeps(CostRules.KeepRule(plan.Job, stock), stock, offcut.Area.SizeX, offcut.Area.SizeY)))
            {
                var size = (offcut.Area.SizeX * offcut.Area.SizeY).SquareNanometres;
                area += size * layout.Count;
                sum += CostRules.Share(worth, size, (layout.Sheet.SizeX * layout.Sheet.SizeY).SquareNanometres) * layout.Count;
            }
        }

        return (area, sum);
    }

    /// <summary>Scrap of the finished plan in which a spare that is still wanted would lie.</summary>
    private static IEnumerable<string> Missed(Plan plan)
    {
        var job = plan.Job;
        foreach (var part in job.Parts.Where(part => !part.OneStock && !part.OneSize && CostRules.FurtherSize(job) == 0))
        {
            if (plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.Spare && piece.PartId == part.Id)) >= part.FreeSpares || plan.Unplaced.Any(missing => missing.PartId == part.Id))
            {
                continue;
            }

            foreach (var layout in plan.Layouts.Where(layout => !layout.Pieces.IsEmpty))
            {
                var stock = job.Stocks.First(one => one.Id == layout.StockId);
                if (stock.CutFor is null && CostRules.SawFor(job, stock) is { } saw && !(CostRules.LimitsPieces(saw) && layout.Pieces.Length >= saw.MostPieces)
                    && SawnBlank.Of(job, part, stock, saw) is { } blank && layout.Offcuts.Any(offcut => !CostRules.Keeps(CostRules.KeepRule(job, stock), stock, offcut.Area.SizeX, offcut.Area.SizeY) && Lies(layout, stock, saw, blank, offcut.Area)))
                {
                    yield return $"a spare of {part.Id} would lie in the scrap of layout {layout.Number}";
                }
            }
        }
    }

    private static bool Lies(Layout layout, Stock stock, Saw saw, SawnBlank blank, Rect offcut)
    {
        if (saw.Kind == SawKind.BarSaw)
        {
            return blank.X <= offcut.SizeX && IsHeld(layout, stock, saw, blank.X, offcut.SizeX);
        }

        return saw.Stages is null && saw.LargestCut is null && stock.KeepOuts.IsEmpty && blank.X >= saw.ShortestHeld && blank.Y >= saw.ShortestHeld
            && ((blank.X <= offcut.SizeX && blank.Y <= offcut.SizeY) || (blank.Turns && blank.Y <= offcut.SizeX && blank.X <= offcut.SizeY));
    }

    /// <summary>The rule of <see cref="BarTable"/> with one blank more, which comes first where it is short: something on the bar is long enough to be held, and so is what lies behind a short blank.</summary>
    /// <remarks>Blanks that are there stay in their order; where one of them is short, nothing is said.</remarks>
    private static bool IsHeld(Layout layout, Stock stock, Saw saw, Length more, Length scrap)
    {
        var trims = CostRules.Trims(saw, stock);
        var behind = stock.MinLength - (CostRules.TrimsBar(trims, stock) ? trims.Left : Length.Zero) - more - saw.Kerf;
        var longest = layout.Pieces.Select(piece => piece.Area.SizeX).Append(more).Append(scrap - more - saw.Kerf).Aggregate(Length.Max);
        return longest >= saw.ShortestHeld && (more >= saw.ShortestHeld || behind >= saw.ShortestHeld) && layout.Pieces.All(piece => piece.Area.SizeX >= saw.ShortestHeld);
    }

    private sealed class OrderComparer : IEqualityComparer<Order>
    {
        public static OrderComparer Same { get; } = new();

        public bool Equals(Order? x, Order? y) => x?.Supplier == y?.Supplier && x?.Total == y?.Total;

        public int GetHashCode(Order order) => order.Supplier.GetHashCode(StringComparison.Ordinal);
    }
}
