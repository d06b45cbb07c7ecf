using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data.Parts;

namespace Nest.Planning.Design;

/// <summary>Which dimensions of a part could grow while every layout of the plan stays as it is.</summary>
/// <remarks>
/// A measure across the section of a bar, or the thickness on plate, may grow until the smallest stock that the plan takes for the part no longer
/// covers the blank: less is milled then, so it costs nothing. A measure along bars may grow while the scrap at the end of each bar with the part
/// lasts, shared by its pieces of the part; that costs the scrap's value. A rest that is kept is left alone; so are rows on plates, where one cut serves many
/// pieces. Found by halving with <see cref="BlankSizer"/> in steps of <see cref="Dimensions.Step"/>. O(measures × layouts × log(limit ÷ step)).
/// </remarks>
internal sealed class Room(Job job, Plan plan, Part part, LengthFormat format)
{
    public IEnumerable<DesignRoom> Of(DesignLimits? limits, decimal share)
    {
        var layouts = plan.Layouts.Where(layout => layout.Pieces.Any(piece => piece.PartId == part.Id)).ToList();
        if (layouts.Count == 0 || layouts.Exists(layout => plan.StockOf(layout).CutFor is not null || layout.Kept))
        {
            yield break;
        }

        var step = Dimensions.Step(job.Unit);
        foreach (var measure in Dimensions.Of(part, limits, share).Where(measure => measure.Grow >= step))
        {
            var (fails, works) = ((measure.Grow.Nanometres / step.Nanometres) + 1, 0L);
            while (fails - works > 1)
            {
                var middle = (fails + works) / 2;
                var changed = measure.With(measure.Value + (step * (int)middle));
                if (layouts.TrueForAll(layout => Stays(layout, changed)))
                {
                    works = middle;
                }
                else
                {
                    fails = middle;
                }
            }

            if (works > 0)
            {
                var value = measure.Value + (step * (int)works);
                yield return new(
                    part.Id, $"{measure.Name} {format.Text(measure.Value, false)} → {format.Text(value, false)} ({format.Text(value - measure.Value)} more)",
                    layouts.Sum(layout => Scrap(layout, measure.With(value)) * layout.Count));
            }
        }
    }

    /// <summary>Whether the layout still holds its pieces of the changed part.</summary>
    private bool Stays(Layout layout, Part changed)
    {
        var stock = plan.StockOf(layout);
        var one = job with { Stocks = [stock] };
        if (BlankSizer.Size(one, part).Fits is not [var before] || BlankSizer.Size(one, changed).Fits is not [var after] || before.Turned != after.Turned)
        {
            return false;
        }

        if (after.SizeX == before.SizeX && after.SizeY == before.SizeY)
        {
            return true;
        }

        return stock.Form.IsBar() && layout.Offcuts is [{ Keep: false } scrap] && Longer(layout, before, after) <= scrap.Area.SizeX;
    }

    /// <summary>Value of the scrap that the longer pieces of one stock piece take.</summary>
    private decimal Scrap(Layout layout, Part changed)
    {
        var stock = plan.StockOf(layout);
        var one = job with { Stocks = [stock] };
        return BlankSizer.Size(one, part).Fits is [var before] && BlankSizer.Size(one, changed).Fits is [var after] && stock.Form.IsBar()
            ? StockWorth.Of(job, stock).Scrap.Amount * Longer(layout, before, after).Nanometres / stock.MinLength.Nanometres
            : 0m;
    }

    private Length Longer(Layout layout, BlankFit before, BlankFit after) => (after.SizeX - before.SizeX) * layout.Pieces.Count(piece => piece.PartId == part.Id);
}
