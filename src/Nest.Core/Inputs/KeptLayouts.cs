using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>Takes layouts of an earlier plan into a job, where they stay as they are and the rest is planned around them.</summary>
/// <remarks>A layout may stay when its stock is still there at its size, its blanks are still those of the job, and no more is cut than is wanted.
/// Its cost is worked out anew, at the job's prices and rates. Blanks for several parts stay as they are too (<see cref="KeptGangs"/>). Pure. O(pieces).</remarks>
public static class KeptLayouts
{
    /// <summary>The job with these layouts of the plan kept; with what is in the way, and no job, when one cannot be.</summary>
    /// <param name="numbers">Numbers of layouts in the plan.</param>
    public static (Job? Job, ImmutableArray<string> Problems) On(Job job, Plan plan, IReadOnlyCollection<int> numbers)
    {
        var problems = new List<string>();
        plan = Bare(plan);
        (job, plan) = KeptGangs.Beside(job, plan, numbers);
        var ways = new Ways(job, plan);
        var kept = new List<Layout>();
        foreach (var number in numbers.Distinct().Order())
        {
            if (plan.Layouts.FirstOrDefault(layout => layout.Number == number) is not { } layout)
            {
                problems.Add(Say($"the plan has no layout {number}: it has 1 to {plan.Layouts.Length}"));
            }
            else if (ways.Why(layout) is { } why)
            {
                problems.Add(Say($"layout {number} cannot stay: {why}"));
            }
            else
            {
                kept.Add(ways.Costed(layout));
            }
        }

        TooMany(job, ways.Stocks, kept, problems);
        problems.AddRange(KeptGangs.TooMany(job));
        return problems.Count > 0 ? (null, [.. problems]) : (job with { Kept = [.. kept] }, []);
    }

    /// <summary>The job with as many layouts of the plan kept as can stay together, taken one after the other; null: none can, or not all that must.</summary>
    /// <param name="must">Numbers of the layouts that stay in any case.</param>
    /// <param name="others">Numbers of those that stay where they can, the first ones first.</param>
    public static Job? AsMany(Job job, Plan plan, IReadOnlyCollection<int> must, IEnumerable<int> others)
    {
        plan = Bare(plan);
        if (must.Count > 0 && On(job, plan, must).Job is null)
        {
            return null;
        }

        // Open numbers per blank: those of all layouts that may stay at first, of those that do stay at the end.
        var candidates = must.Concat(others).Distinct().ToList();
        var (beside, named) = KeptGangs.Beside(job, plan, candidates);
        var ways = new Ways(beside, named);
        var layouts = named.Layouts.ToDictionary(layout => layout.Number);
        var kept = must.Distinct().Select(number => ways.Costed(layouts[number])).ToList();
        foreach (var number in candidates.Where(number => !must.Contains(number)))
        {
            if (!layouts.TryGetValue(number, out var layout) || ways.Why(layout) is not null)
            {
                continue;
            }

            var problems = new List<string>();
            kept.Add(ways.Costed(layout));
            TooMany(beside, ways.Stocks, kept, problems);
            if (!ReferenceEquals(beside, job))
            {
                // Blanks of several kinds may give too many of a part together.
                problems.AddRange(KeptGangs.TooMany(KeptGangs.Beside(job, plan, [.. kept.Select(one => one.Number)]).Job));
            }

            if (problems.Count > 0)
            {
                kept.RemoveAt(kept.Count - 1);
            }
        }

        return kept.Count == 0 ? null
            : ReferenceEquals(beside, job) ? job with { Kept = [.. kept.OrderBy(layout => layout.Number)] }
            : On(job, plan, [.. kept.Select(layout => layout.Number)]).Job;
    }

    /// <summary>Free spares are nothing that must stay: they are laid anew at the end. The numbers of the layouts stay.</summary>
    private static Plan Bare(Plan plan) => plan with { Layouts = [.. plan.Layouts.Select(layout => SparesOut.Bare(plan.Job, layout))] };

    /// <summary>What a layout is held against, worked out once: the job's stock, and the blanks that it cuts from each.</summary>
    private sealed class Ways(Job job, Plan old)
    {
        private readonly Dictionary<(string PartId, string StockId), BlankFit> _fits = BlankSizer.Size(job)
            .SelectMany(blank => blank.Fits.Select(fit => (Key: (blank.Part.Id, fit.StockId), fit))).ToDictionary(pair => pair.Key, pair => pair.fit);

        public Dictionary<string, Stock> Stocks { get; } = job.Stocks.ToDictionary(stock => stock.Id, StringComparer.Ordinal);

        public string? Why(Layout layout)
        {
            if (layout.Pieces.IsEmpty)
            {
                return "it is a piece bought whole, nothing is cut from it";
            }

            if (!Stocks.TryGetValue(layout.StockId, out var stock) || job.SawFor(stock) is not { } saw || saw.Id != layout.SawId)
            {
                return Say($"{layout.StockId} is no stock of this job, or another saw cuts it now");
            }

            if (layout.Sheet != new Geometry.Rect(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth)
                || old.SawOf(layout).Kerf != saw.Kerf || old.StockOf(layout).Thickness != stock.Thickness
                || (saw.Id != Saw.SupplierId && layout.Trims != saw.TrimsOn(stock)))
            {
                return Say($"{layout.StockId}, its trims or the kerf of {saw.Id} are not what they were");
            }

            if (layout.Pieces.Select(piece => piece.PartId).Distinct(StringComparer.Ordinal).Select(id => KeptGangs.Problem(job, id)).FirstOrDefault(problem => problem is not null) is { } gang)
            {
                return gang;
            }

            var wrong = layout.Pieces.FirstOrDefault(piece => !_fits.TryGetValue((piece.PartId, layout.StockId), out var fit)
                || fit.Ends != piece.Ends || !IsSize(fit, piece, stock));
            return wrong.PartId is null ? null : Say($"{wrong.PartId} is no part of this job, or its blank from {layout.StockId} is another now");
        }

        public Layout Costed(Layout layout)
        {
            var stock = Stocks[layout.StockId];
            var facing = layout.Pieces.Aggregate(Money.Zero, (sum, piece) => sum + _fits[(piece.PartId, stock.Id)].ExtraCost);
            var judged = layout with { Kept = true, Offcuts = [.. layout.Offcuts.Select(offcut => CostModel.Judge(job, stock, offcut.Area, layout.Sheet))] };
            return judged with { Cost = CostModel.Cost(job, stock, job.SawFor(stock)!, judged, facing) };
        }
    }

    /// <summary>What the layouts that stay cut of each part.</summary>
    public static Dictionary<string, int> Pieces(IEnumerable<Layout> kept) => kept
        .SelectMany(layout => layout.Pieces.Select(piece => (piece.PartId, layout.Count)))
        .GroupBy(entry => entry.PartId, StringComparer.Ordinal)
        .ToDictionary(group => group.Key, group => group.Sum(entry => entry.Count), StringComparer.Ordinal);

    /// <summary>What they take of each stock.</summary>
    public static Dictionary<string, int> Stocks(IEnumerable<Layout> kept) => kept.GroupBy(layout => layout.StockId, StringComparer.Ordinal)
        .ToDictionary(group => group.Key, group => group.Sum(layout => layout.Count), StringComparer.Ordinal);

    private static void TooMany(Job job, Dictionary<string, Stock> stocks, List<Layout> kept, List<string> problems)
    {
        foreach (var (id, pieces) in Pieces(kept))
        {
            var part = job.Parts.First(part => part.Id == id);
            if (pieces > job.DemandOf(part))
            {
                problems.Add(Say($"the layouts that are to stay cut {pieces} of {id}, and {job.DemandOf(part)} are wanted: let one of them go"));
            }

            var from = kept.Where(layout => layout.Pieces.Any(piece => piece.PartId == id)).ToList();
            var sizes = from.SelectMany(layout => layout.Pieces.Where(piece => piece.PartId == id)
                .Select(piece => BlankSize.Of(stocks[layout.StockId], piece))).Distinct().Count();
            if ((part.OneStock && from.Select(layout => layout.StockId).Distinct(StringComparer.Ordinal).Count() > 1) || (part.OneSize && sizes > 1))
            {
                problems.Add(Say($"the layouts that are to stay cut {id} from several stocks or in several sizes, and the job wants one"));
            }
        }

        foreach (var (id, count) in Stocks(kept).Where(entry => entry.Value > stocks[entry.Key].Available))
        {
            problems.Add(Say($"the layouts that are to stay take {count} of {id}, and there are {stocks[id].Available}"));
        }
    }

    private static bool IsSize(BlankFit fit, PlacedPiece piece, Stock stock)
    {
        var (x, y) = (piece.Area.SizeX, piece.Area.SizeY);
        return (x == fit.SizeX && (stock.Form.IsBar() || y == fit.SizeY)) || (fit.MayTurn && y == fit.SizeX && x == fit.SizeY);
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
