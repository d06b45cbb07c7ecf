using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Spares;

/// <summary>Lays the free spares that a job wants into the scrap of its finished plan.</summary>
/// <remarks>
/// A free spare takes no more metal: nothing is bought or fetched for it, and no offcut that is kept becomes smaller; its blank has a size that the part has
/// anyway where a further one costs. What it takes is time at saw and mill (and its metal's value as scrap), limited by <see cref="Job.FreeSparesUpTo"/>.
/// The plan of the needed pieces, its cost, its bound and its proof stay as the search found them (<see cref="SparesOut"/>).
/// Method: greedy. Parts in the order of the job; of all ways to lay a run of one part's spares into one piece of scrap the one with the least cost a spare is
/// next. Heuristic: not proven to be the most. Deterministic; ends after <see cref="MostTries"/> ways looked at. O(tries · pieces of a layout).
/// </remarks>
public static class FreeSpares
{
    /// <summary>Ways to lay spares that are looked at, each costed: about a second.</summary>
    public const int MostTries = 50_000;

    /// <param name="blanks">Of the plan's parts.</param>
    public static Plan Lay(Plan plan, ImmutableArray<Blank> blanks)
    {
        if (plan.Job.Parts.All(part => part.FreeSpares == 0) || plan.Layouts.IsEmpty)
        {
            return plan;
        }

        var filling = new Filling(plan);
        foreach (var blank in blanks.Where(blank => blank.Part is { FreeSpares: > 0, PerBlank: null } && !plan.Unplaced.Any(entry => entry.PartId == blank.Part.Id)))
        {
            filling.Lay(blank);
        }

        return filling.Result();
    }

    /// <summary>A layout as it is now, and as it is without spares.</summary>
    private sealed record Sheet(Layout Layout, Layout Bare);

    /// <param name="From">What it changes.</param>
    /// <param name="To">One stock piece with spares more.</param>
    private sealed record Move(Sheet From, Layout To, int Spares, int Copies);

    private sealed class Filling(Plan plan)
    {
        private readonly Job job = plan.Job;
        private readonly Dictionary<string, StockFrame> frames = new(StringComparer.Ordinal);
        private readonly List<Sheet> sheets = [.. plan.Layouts.Select(layout => new Sheet(layout, layout))];
        private readonly Dictionary<string, int> kept = SparesOut.Count(plan.Layouts);
        private int tries;

        public Plan Result()
        {
            var layouts = Numbered(sheets.Select(sheet => sheet.Layout));
            return plan with { Layouts = layouts, SpareCost = CostSheet.Total(job, layouts) - plan.TotalCost };
        }

        public void Lay(Blank blank)
        {
            var part = blank.Part;
            var left = part.FreeSpares - kept.GetValueOrDefault(part.Id);
            var fits = Allowed(blank).ToDictionary(fit => fit.StockId, StringComparer.Ordinal);
            var queue = new PriorityQueue<Move, (decimal Each, int Order)>();
            var order = 0;
            foreach (var sheet in sheets.ToList())
            {
                Push(sheet);
            }

            while (left > 0 && queue.TryDequeue(out var move, out _))
            {
                if (!sheets.Contains(move.From))
                {
                    continue;
                }

                if (move.Spares > left || move.Copies > left / move.Spares)
                {
                    Push(move.From); // fewer are wanted by now
                }
                else if (Take(move) is { } now)
                {
                    left -= move.Spares * move.Copies;
                    Push(now);
                    if (move.Copies < move.From.Layout.Count)
                    {
                        Push(sheets[sheets.IndexOf(now) + 1]);
                    }
                }
            }

            void Push(Sheet sheet)
            {
                var layout = sheet.Layout;
                if (layout.Pieces.IsEmpty || !fits.TryGetValue(layout.StockId, out var fit))
                {
                    return;
                }

                foreach (var (to, spares) in Ways(layout, part, fit, left))
                {
                    if (++tries > MostTries)
                    {
                        return;
                    }

                    var copies = Math.Min(layout.Count, left / spares);
                    if (layout.Kept && copies < layout.Count)
                    {
                        continue; // what stays of an earlier plan is not taken apart
                    }

                    var settings = SettingCosts.Of(job, [to]).Total - (copies == layout.Count ? SettingCosts.Of(job, [layout]).Total : Money.Zero);
                    var cost = ((to.Cost.Total - layout.Cost.Total) * copies) + settings;
                    queue.Enqueue(new(sheet, to, spares, copies), (cost.Amount / (spares * copies), order++));
                }
            }
        }

        /// <summary>Does the move; what it does not change of layouts that are cut alike comes behind it.</summary>
        /// <returns>What is cut now; null: the spares would not be free, and all is as before.</returns>
        private Sheet? Take(Move move)
        {
            var before = sheets.ToList();
            var at = sheets.IndexOf(move.From);
            var now = new Sheet(move.To with { Count = move.Copies }, move.From.Bare);
            sheets[at] = now;
            if (move.Copies < move.From.Layout.Count)
            {
                sheets.Insert(at + 1, move.From with { Layout = move.From.Layout with { Count = move.From.Layout.Count - move.Copies } });
            }

            if (TakesOut(now) && (job.FreeSparesUpTo is not { } limit || Total(sheets) - Total(before) <= limit * (move.Spares * move.Copies)))
            {
                return now;
            }

            sheets.Clear();
            sheets.AddRange(before);
            return null;
        }

        /// <summary>The stocks that a spare of the part may come from, so that the part's own rules hold and no further size is set up for.</summary>
        private IEnumerable<BlankFit> Allowed(Blank blank)
        {
            var own = plan.Layouts.SelectMany(layout => layout.Pieces.Where(piece => piece.PartId == blank.Part.Id)
                .Select(piece => (layout.StockId, Size: BlankSize.Of(plan.StockOf(layout), piece)))).ToHashSet();
            var stocks = own.Select(one => one.StockId).ToHashSet(StringComparer.Ordinal);
            var sizes = own.Select(one => one.Size).ToHashSet();
            var anySize = !blank.Part.OneSize && FussCosts.OfSize(job) == Money.Zero;
            return blank.Fits.Where(fit => (!blank.Part.OneStock || stocks.Contains(fit.StockId)) && (anySize || sizes.Contains(BlankSize.Of(job.Stocks.First(stock => stock.Id == fit.StockId), fit))));
        }

        private IEnumerable<(Layout To, int Spares)> Ways(Layout layout, Part part, BlankFit fit, int most)
        {
            if (!frames.TryGetValue(layout.StockId, out var frame))
            {
                var stock = plan.StockOf(layout);
                frames[layout.StockId] = frame = new(job, stock, plan.SawOf(layout));
            }

            if (frame.Stock.CutFor is not null || most < 1)
            {
                return [];
            }

            var places = frame.IsBar ? SparesOnBar.Ways(job, frame, layout, part, fit, most)
                : frame.IsFree ? SparesOnCutter.Ways(frame, layout, part, fit)
                : SparesOnPlate.Ways(job, frame, layout, part, fit, most);
            return places.Select(to => (Costed(frame, to, layout, fit), to.Pieces.Length - layout.Pieces.Length));
        }

        private Layout Costed(StockFrame frame, Layout to, Layout from, BlankFit fit) => to with
        {
            Cost = CostModel.Cost(job, frame.Stock, frame.Saw, to, from.Cost.Facing + (fit.ExtraCost * (to.Pieces.Length - from.Pieces.Length))),
        };

        /// <summary>Whether taking the spares out gives back just what the search found: only then does its cost stay.</summary>
        private bool TakesOut(Sheet sheet) => SparesOut.Of(job, [sheet.Layout]) is [var bare] && bare.Cost == sheet.Bare.Cost && bare.Pieces.SequenceEqual(sheet.Bare.Pieces)
            && SettingCosts.Of(job, [bare]).Total == SettingCosts.Of(job, [sheet.Bare]).Total;

        private Money Total(IEnumerable<Sheet> all) => CostSheet.Total(job, Numbered(all.Select(sheet => sheet.Layout)));

        private static ImmutableArray<Layout> Numbered(IEnumerable<Layout> layouts) => [.. layouts.Select((layout, at) => layout with { Number = at + 1 })];
    }
}
