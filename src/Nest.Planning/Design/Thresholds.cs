using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data.Parts;

namespace Nest.Planning.Design;

/// <summary>Where the next thresholds of a part lie: the least change with which another stock serves, or one more piece fits on a bar or in a row.</summary>
/// <remarks>
/// Problem: for each measure of a part the smallest reduction at which something becomes possible that is not now. Method: whether a stock serves,
/// and how many pieces one stock piece takes alone (bar: ⌊(usable + kerf) ÷ (blank + kerf)⌋; plate: rows × columns, the better way round), is asked of
/// <see cref="BlankSizer"/>; both can only grow while the measure shrinks, so the least reduction is found by halving, in whole steps of
/// <see cref="Dimensions.Step"/>. One case is not monotone: surfaces that stay serve where the part just equals the stock; that value is tried by itself. Cost:
/// O(stocks of the material × measures × log(limit ÷ step)) blanks. What a change saves is only estimated here, for the order of trying.
/// </remarks>
internal sealed class Thresholds(Job job, Plan plan, Part part, LengthFormat format)
{
    private readonly Length _step = Dimensions.Step(job.Unit);
    private readonly int _demand = job.DemandOf(part);
    private readonly List<Stock> _stocks = [.. job.Stocks.Where(stock => stock.CutFor is null && stock.Available is not <= 0
        && string.Equals(stock.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase) && job.Allows(part, stock) && job.SawFor(stock) is not null)];

    private sealed record Found(Part Changed, string What, string Reason, decimal Promise);

    /// <summary>All changes, each with all that it reaches, the most promising first.</summary>
    public IReadOnlyList<DesignChange> All(DesignLimits? limits, decimal share)
    {
        var found = new List<Found>();
        var now = Cheapest(part);
        var served = _stocks.Where(stock => Fit(part, stock) is not null).ToList();
        var used = plan.Layouts.Where(layout => layout.Pieces.Any(piece => piece.PartId == part.Id)).Select(layout => layout.StockId).ToHashSet(StringComparer.Ordinal);
        var usual = served.Where(stock => used.Contains(stock.Id) || stock.IsLeftover).Concat(served.OrderBy(stock => Each(part, stock) ?? decimal.MaxValue).Take(3)).Distinct().ToList();
        foreach (var measure in Dimensions.Of(part, limits, share).Concat(Dimensions.Allowances(job, part)).Where(measure => measure.Shrink >= _step))
        {
            foreach (var stock in _stocks.Except(served))
            {
                if (Least(measure, changed => Fit(changed, stock) is not null) is { } value)
                {
                    found.Add(Of(measure, value, $"{(stock.IsLeftover ? "leftover " : "")}{stock.Id} would serve", Promise(now, measure.With(value), stock)));
                }
            }

            foreach (var stock in usual)
            {
                var count = Count(part, stock);

                // On a plate that takes more than are wanted, a row that is won serves other parts.
                if ((count < _demand || !stock.Form.IsBar()) && Least(measure, changed => Count(changed, stock) > count) is { } value)
                {
                    var more = Count(measure.With(value), stock);
                    var saved = stock.PiecePrice.Amount * _demand * ((1m / count) - (1m / more));
                    found.Add(Of(measure, value, $"{Rows(measure.With(value), stock)}{more} instead of {count} from each {stock.Id}", Math.Max(saved, Promise(now, measure.With(value), stock))));
                }
            }
        }

        foreach (var (what, changed) in Staying())
        {
            found.AddRange(_stocks.Where(stock => Fit(changed, stock) is not null && !served.Contains(stock))
                .Select(stock => new Found(changed, what, $"{stock.Id} would serve", Promise(now, changed, stock))));
            if (Cheapest(changed) is { } less && now is { } each && less < each)
            {
                found.Add(new(changed, what, "nothing is milled off them", (each - less) * _demand));
            }
        }

        return [.. found.GroupBy(one => one.What, StringComparer.Ordinal)
            .Select(group => new DesignChange(part.Id, group.Key, group.First().Changed, Reasons(group), group.Max(one => one.Promise)))
            .Where(change => change.Promise > 0m).OrderByDescending(change => change.Promise)];
    }

    private static ImmutableArray<string> Reasons(IEnumerable<Found> found)
    {
        const int named = 3;
        var all = found.OrderByDescending(one => one.Promise).Select(one => one.Reason).Distinct(StringComparer.Ordinal).ToList();
        return all.Count <= named ? [.. all] : [.. all.Take(named), $"and {all.Count - named} more"];
    }

    private Found Of(Measure measure, Length value, string reason, decimal promise) =>
        new(measure.With(value), $"{measure.Name} {format.Text(measure.Value, false)} → {format.Text(value, false)} ({format.Text(measure.Value - value)} less)", reason, promise);

    /// <summary>Surfaces that are milled now and might stay.</summary>
    private IEnumerable<(string What, Part Changed)> Staying()
    {
        if (part.Detail is not null)
        {
            yield break;
        }

        if (!part.MillSides)
        {
            yield return ("sides stay as the mill made them", part with { MillSides = true });
        }

        if (!part.MillFaces)
        {
            yield return ("faces stay as the mill made them", part with { MillFaces = true });
        }
    }

    /// <summary>The largest value of the measure below its present one at which this holds; null: none within the limit.</summary>
    private Length? Least(Measure measure, Func<Part, bool> holds)
    {
        var steps = measure.Shrink.Nanometres / _step.Nanometres;
        if (!holds(measure.With(measure.Value - (_step * (int)steps))))
        {
            return Equal(measure, holds);
        }

        var (fails, works) = (0L, steps);
        while (works - fails > 1)
        {
            var middle = (fails + works) / 2;
            if (holds(measure.With(measure.Value - (_step * (int)middle))))
            {
                works = middle;
            }
            else
            {
                fails = middle;
            }
        }

        var found = measure.Value - (_step * (int)works);
        return Equal(measure, holds) is { } equal && equal > found ? equal : found;
    }

    /// <summary>Just the size of a stock, which serves where its surfaces stay.</summary>
    private Length? Equal(Measure measure, Func<Part, bool> holds)
    {
        foreach (var size in _stocks.SelectMany(stock => new[] { stock.Width, stock.Thickness }).Where(size => size < measure.Value && measure.Value - size <= measure.Shrink)
            .Distinct().OrderByDescending(size => size))
        {
            if (holds(measure.With(size)))
            {
                return size;
            }
        }

        return null;
    }

    private BlankFit? Fit(Part changed, Stock stock) => BlankSizer.Size(job with { Stocks = [stock] }, changed).Fits is [var fit] ? fit : null;

    /// <summary>Pieces of the part that one piece of stock gives by itself; 0: it does not serve.</summary>
    private int Count(Part changed, Stock stock)
    {
        if (Fit(changed, stock) is not { } fit)
        {
            return 0;
        }

        var (columns, rows) = Grid(fit, stock);
        return columns * rows;
    }

    /// <summary>Columns along and rows across, the better way round; of a bar one row.</summary>
    private (int Columns, int Rows) Grid(BlankFit fit, Stock stock)
    {
        var saw = job.SawFor(stock)!;
        var trims = saw.TrimsOn(stock);
        var usableX = stock.MinLength - trims.Left - trims.Right;
        if (stock.Form.IsBar())
        {
            return (Fits(usableX, fit.SizeX, saw.Kerf), 1);
        }

        var usableY = stock.MinWidth - trims.Bottom - trims.Top;
        var straight = (Columns: Fits(usableX, fit.SizeX, saw.Kerf), Rows: Fits(usableY, fit.SizeY, saw.Kerf));
        var turned = (Columns: Fits(usableX, fit.SizeY, saw.Kerf), Rows: Fits(usableY, fit.SizeX, saw.Kerf));
        return fit.MayTurn && turned.Columns * turned.Rows > straight.Columns * straight.Rows ? turned : straight;
    }

    /// <summary>Says so where the change is worth just one more row or column of a plate.</summary>
    private string Rows(Part changed, Stock stock)
    {
        if (stock.Form.IsBar() || Fit(part, stock) is not { } before || Fit(changed, stock) is not { } after)
        {
            return "";
        }

        var (now, then) = (Grid(before, stock), Grid(after, stock));
        var same = now.Columns == then.Columns ? then.Rows - now.Rows : now.Rows == then.Rows ? then.Columns - now.Columns : 0;
        return same == 1 ? "one more row on the plate: " : "";
    }

    private static int Fits(Length usable, Length size, Length kerf) =>
        usable < size ? 0 : (int)Math.Min(1_000_000, (usable + kerf).Nanometres / (size + kerf).Nanometres);

    /// <summary>Metal and milling of one piece from this stock, by its share of it; null: it does not serve.</summary>
    private decimal? Each(Part changed, Stock stock)
    {
        if (Fit(changed, stock) is not { } fit)
        {
            return null;
        }

        var kerf = job.SawFor(stock)!.Kerf;
        var share = stock.Form.IsBar()
            ? (decimal)(fit.SizeX + kerf).Nanometres / stock.MinLength.Nanometres
            : ((fit.SizeX + kerf) * (fit.SizeY + kerf)).ShareOf(stock.MinLength * stock.MinWidth);
        return (stock.PiecePrice.Amount * share) + fit.ExtraCost.Amount;
    }

    private decimal? Cheapest(Part changed) => _stocks.Min(stock => Each(changed, stock));

    /// <summary>What this stock would save against the cheapest now, for as many pieces as there are.</summary>
    private decimal Promise(decimal? now, Part changed, Stock stock)
    {
        var pieces = stock.Available is { } available ? (int)Math.Min(_demand, (long)available * Count(changed, stock)) : _demand;
        return now is not { } each ? _demand : Each(changed, stock) is { } less ? (each - less) * pieces : 0m;
    }
}
