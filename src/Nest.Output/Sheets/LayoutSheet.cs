using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The pages of one layout: facts and picture, steps to tick, angled ends, details of small pieces.</summary>
/// <remarks>Nobody wants to turn the page for the last two lines, and oily hands want large type: several sizes are tried, and the first
/// in the order of <see cref="LayoutSize"/> that needs the fewest pages is taken. The picture of a size is drawn once.</remarks>
internal sealed class LayoutSheet
{
    private readonly SheetContext _context;
    private readonly Layout _layout;
    private readonly WorkItem _item;
    private readonly Stock _stock;

    private LayoutSheet(SheetContext context, Layout layout, WorkItem item)
    {
        (_context, _layout, _item) = (context, layout, item);
        _stock = context.Plan.StockOf(layout);
    }

    /// <param name="place">In the order of work, from 1.</param>
    /// <param name="of">Layouts to cut.</param>
    public static void Draw(SheetPages pages, SheetContext context, WorkItem item, int place, int of)
    {
        var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
        var head = context.HeadOf(layout.Number, place, of);
        var sheet = new LayoutSheet(context, layout, item);
        var bar = sheet._stock.Form.IsBar();
        var tops = new Dictionary<double, LayoutTop>();
        (LayoutTop Top, double Type, int Pages)? best = null;
        foreach (var size in bar ? LayoutSize.Bars : LayoutSize.Plates)
        {
            if (!tops.TryGetValue(size.Picture, out var top))
            {
                if (best is { } large && !bar && large.Top.Pages.Count == 1 && sheet.Count(large.Top, size.Type, Gain(size)) >= large.Pages)
                {
                    continue; // even without drawing it is clear that this much less of the picture saves no page
                }

                tops[size.Picture] = top = new LayoutTop(pages.Blank(), context, layout, item, head, size);
            }

            var count = sheet.Count(top, size.Type, 0);
            best = best is null || count < best.Value.Pages ? (top, size.Type, count) : best;
            if (best.Value.Pages == 1)
            {
                break;
            }
        }

        var (chosen, type, _) = best!.Value;
        sheet.Rest(chosen.Pages, chosen, type, 0, true);
        pages.Take(chosen.Pages);

        double Gain(LayoutSize size) => LayoutTop.PlateHeight(pages, layout, 1) - LayoutTop.PlateHeight(pages, layout, size.Picture);
    }

    private int Count(LayoutTop top, double type, double higher)
    {
        var trial = top.Pages.Fork();
        Rest(trial, top, type, higher, false);
        return trial.Count;
    }

    // What stands below the top. On trial pages the details are only counted.
    private void Rest(SheetPages pages, LayoutTop top, double type, double higher, bool details)
    {
        var y = top.Bottom - higher + 2;
        y = _item.Sequence.Steps.Length > 0 ? Steps.Draw(pages, _context, _layout, _item, y, type) : OutlineList(pages, y, type);
        y = AngledSteps.Draw(pages, _context, _item.Sequence, y + 2, type);
        if (top.Unlabelled.Count > 0)
        {
            DetailPages(pages, top.Unlabelled, y, details);
        }
    }

    private double OutlineList(SheetPages pages, double top, double type)
    {
        var texts = _context.Texts;
        if (top + 24 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, texts.Outlines, pages.Body.X, top + 4, 4.2, pages.Body, Face.Bold);
        Column[] columns =
        [
            new(texts.HeadDone, 11), new("", 12, Align.Right, Face.Bold), new(texts.Part, pages.Body.Width - 11 - 12 - 44 - 50),
            new(texts.Size, 44), new(texts.Position, 50, Align.Left, Face.Bold),
        ];
        var rows = _item.Sequence.Outlines.Select(outline => new[]
        {
            "□", SheetContext.Text(outline.Number), $"{SheetContext.Fill(_context.Texts.PartNumber, _context.Number(outline.PartId))} {outline.PartId}", _context.SizeOf(_layout.Pieces[outline.Index], _stock),
            $"{_context.Length(outline.Area.X - _layout.MeasuredFrom.X, false)}, {_context.Length(outline.Area.Y - _layout.MeasuredFrom.Y, false)}",
        }).ToArray();
        return Table.Draw(pages, top + 5.6, columns, rows, 3 * type);
    }

    // Details follow each other down the page, each as tall as it needs at the full width.
    private void DetailPages(SheetPages pages, IReadOnlyList<int> unlabelled, double below, bool draw)
    {
        const double Title = 6;
        const double Rulers = Ruler.Band + 6;
        var area = LayoutTop.DetailArea(pages);
        var windows = Details.Windows(_context, _layout, unlabelled, area);
        var y = below + 4;
        for (var index = 0; index < windows.Count; index++)
        {
            var wide = pages.Body.Width - Ruler.Band - 12;
            var height = Math.Min((wide * View.Millimetres(windows[index].SizeY) / View.Millimetres(windows[index].SizeX)) + Rulers, area.Height);
            if (y + Title + height > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            // The last one, or one that is alone on its page, takes the room that is left when that makes it larger.
            var room = index == windows.Count - 1 ? pages.Body.Bottom - y - Title : height;
            if (draw)
            {
                pages.Scene.Text(Layer.Page, SheetContext.Fill(_context.Texts.DetailTitle, index + 1), pages.Body.X, y + 4, 4.2, pages.Body, Face.Bold);
                new PlatePicture(_context, pages.Scene, _layout, _item.Sequence).Draw(pages.Body with { Y = y + Title, Height = room }, windows[index]);
            }

            y += Title + height + 2;
        }
    }
}
