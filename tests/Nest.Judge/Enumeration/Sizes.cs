using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>What ties the stocks of a part together: each further size of its blanks costs, or all must be of one size or from one stock.</summary>
/// <remarks>All choices of the sizes (or stocks) that each part may come in are tried; for each the cheapest purchase is found with what else
/// holds a piece left out, and the further sizes are charged. Exact, as a choice that is not used to the full is tried by itself too.
/// O(∏ 2^sizes) purchases.</remarks>
internal sealed class Sizes(Job job, LoadSpace loads)
{
    private const int MostChoices = 3000;

    /// <summary>Least cost of each load.</summary>
    public long[] Cheapest(IReadOnlyList<Buying.Source> sources)
    {
        var choices = job.Parts.Select((part, kind) => Choices(part, kind, sources)).ToArray();
        if (choices.Aggregate(1L, (product, some) => product * some.Count) > MostChoices)
        {
            throw new TooLargeException("Too many choices of sizes.");
        }

        long[]? best = null;
        var chosen = new (HashSet<Buying.Source>? From, long Charge)[job.Parts.Length];
        Choose(0);
        return best!;

        void Choose(int kind)
        {
            if (kind < choices.Length)
            {
                foreach (var choice in choices[kind])
                {
                    chosen[kind] = choice;
                    Choose(kind + 1);
                }

                return;
            }

            var charge = chosen.Sum(choice => choice.Charge);
            var own = sources.Select(source => source with { Layout = [.. source.Layout.Select((cost, load) => Allowed(source, load) ? cost : ThroughCutTable.Never)] });
            var cost = new Buying(job, loads).Cheapest([.. own]).Select(one => one >= ThroughCutTable.Never ? one : one + charge);
            best = best is null ? [.. cost] : [.. best.Zip(cost, Math.Min)];
        }

        bool Allowed(Buying.Source source, int load)
        {
            for (var kind = 0; kind < chosen.Length; kind++)
            {
                if (chosen[kind].From is { } from && loads.Of(load, kind) > 0 && !from.Contains(source))
                {
                    return false;
                }
            }

            return true;
        }
    }

    /// <summary>Sets of stocks that a part may come from (null: any), each with what it costs.</summary>
    private List<(HashSet<Buying.Source>? From, long Charge)> Choices(Part part, int kind, IReadOnlyList<Buying.Source> sources)
    {
        var charge = CostRules.FurtherSize(job);
        if (!part.OneStock && !part.OneSize && charge == 0)
        {
            return [(null, 0)];
        }

        // A piece by itself has the size that the stock gives it, whatever lies beside it.
        var groups = sources
            .Select(source => (Source: source, Size: part.OneStock ? source.Stock.Id : SizeOf(part, source.Stock)))
            .Where(entry => entry.Size is not null && Enumerable.Range(0, loads.Count).Any(load => loads.Of(load, kind) > 0 && entry.Source.Layout[load] < ThroughCutTable.Never))
            .GroupBy(entry => entry.Size!, entry => entry.Source, StringComparer.Ordinal).ToList();
        // The sizes of layouts that stay are there anyway.
        var stay = job.Kept.Where(layout => layout.Pieces.Any(piece => piece.PartId == part.Id))
            .Select(layout => job.Stocks.First(stock => stock.Id == layout.StockId))
            .Select(stock => part.OneStock ? stock.Id : SizeOf(part, stock)!).ToHashSet(StringComparer.Ordinal);
        var all = new List<(HashSet<Buying.Source>?, long)> { ([], charge * Math.Max(0, stay.Count - 1)) };
        for (var bits = 1; bits < 1 << groups.Count; bits++)
        {
            var taken = groups.Where((_, g) => (bits >> g & 1) != 0).ToList();
            var number = taken.Select(group => group.Key).Union(stay).Count();
            if (number == 1 || (!part.OneStock && !part.OneSize))
            {
                all.Add(([.. taken.SelectMany(group => group)], charge * (number - 1)));
            }
        }

        return all;
    }

    /// <summary>The three measures of the part's blank from this stock, in order; null: it does not come from there.</summary>
    private string? SizeOf(Part part, Stock stock)
    {
        var saw = stock.CutFor is null ? CostRules.SawFor(job, stock) : null;
        if (SawnBlank.Of(job, part, stock, saw) is not { } blank)
        {
            return null;
        }

        Length[] measures = [blank.X, stock.Form == Form.Plate ? blank.Y : stock.Width, stock.Thickness];
        return string.Join(' ', measures.Select(one => one.Nanometres).Order()) + (stock.Form == Form.RoundBar ? " round" : "");
    }
}
