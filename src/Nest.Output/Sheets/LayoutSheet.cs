using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The pages of one layout: what stands above it (<see cref="LayoutHead"/>), picture, break-down of a plate, key and balance; then the steps to tick, angled ends,
/// details of small pieces.</summary>
internal sealed class LayoutSheet
{
    // Shares of a page that pictures take at most.
    private const double MostPlate = 0.4;
    private const double MostBreakDown = 0.42;
    private const double MostBar = 0.6;
    private const double LeastBreakDown = 76;

    // No bar needs less, with its heading: nothing has to be tried.
    private const double LeastBar = 80;

    // Between bars on one page, and the height of the lower one's heading.
    private const double Apart = 3.4;
    private const double Headed = 10.2;

    private readonly SheetPages _pages;
    private readonly SheetContext _context;
    private readonly Layout _layout;
    private readonly WorkItem _item;
    private readonly WorkItem? _before;
    private readonly Stock _stock;
    private readonly Saw _saw;

    private LayoutSheet(SheetPages pages, SheetContext context, WorkItem item, WorkItem? before)
    {
        (_pages, _context, _item, _before) = (pages, context, item, before);
        _layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
        _stock = context.Plan.StockOf(_layout);
        _saw = context.Plan.SawOf(_layout);
    }

    /// <summary>All layouts in the order of work. Bars that follow each other on a saw share a page where they have room.</summary>
    public static void Draw(SheetPages pages, SheetContext context, IReadOnlyList<WorkItem> items)
    {
        var y = 0.0;
        for (var at = 0; at < items.Count; at++)
        {
            var sheet = new LayoutSheet(pages, context, items[at], at == 0 ? null : items[at - 1]);
            var head = context.HeadOf(items[at].Layout, at + 1, items.Count);
            var count = context.CountOf(sheet._layout);
            var shares = at > 0 && sheet._stock.Form.IsBar() && items[at - 1].Sequence.SawId == items[at].Sequence.SawId && y + LeastBar <= pages.Body.Bottom
                && sheet.Height() is { } height && y + Apart + Headed + height <= pages.Body.Bottom;
            y = sheet.Body(shares ? sheet.Heading(head, count, y + Apart) : pages.Start(head, count), shares);
        }
    }

    // Height of a layout that fits on one page; null: it needs more.
    private double? Height()
    {
        var trial = _pages.Blank();
        var top = trial.Start("");
        var y = new LayoutSheet(trial, _context, _item, _before).Body(top, true);
        return trial.Count == 1 ? y - top : null;
    }

    private double Heading(string head, string mark, double top)
    {
        var (scene, body) = (_pages.Scene, _pages.Body);
        var right = SheetPages.Mark(scene, mark, body.Right, top);
        scene.Text(Layer.Page, head, body.X, top + 6, 6, Box.FromEdges(body.X, top, right, top + 8.5), Face.Bold);
        scene.Line(Layer.Page, body.X, top + 9.4, body.Right, top + 9.4, new Stroke(PartLook.Ink, 0.6));
        return top + Headed;
    }

    /// <param name="shares">Whether another layout stands above on the page: what it says once for all is not said again.</param>
    private double Body(double top, bool shares)
    {
        var y = new LayoutHead(_pages, _context, _item, _before).Draw(top);
        (y, var unlabelled) = Picture(y + 1);
        y = Room(y, 16);
        y = BalanceBar.Draw(_pages.Scene, _context, _layout, _item.Sequence, _pages.Body, y);

        // A bar of one kind of blank names it on the metal.
        y = _stock.Form.IsBar() && _layout.Pieces.DistinctBy(piece => piece.PartId).Count() == 1 ? y : Key(y);
        y = PartNotes(y);
        if (!_stock.Form.IsBar())
        {
            y = Notes(y);
            y = _item.Sequence.Steps.IsEmpty ? y : Broken(y);
        }

        if (_context.Lengths.ShowsFractions && !shares)
        {
            var note = SheetContext.Fill(_context.Texts.RoundingNote, _context.Lengths.InchFraction);
            y = _pages.Paragraph(note, y, 9, Print.Least, 1);
        }

        y = _item.Sequence.Steps.Length > 0 ? Steps.Draw(_pages, _context, _layout, _item, y + 1) : OutlineList(y + 2);
        y = AngledSteps.Draw(_pages, _context, _item.Sequence, y + 2);
        return unlabelled.Count == 0 ? y : DetailPages(unlabelled, y);
    }

    private double Room(double top, double height) => _pages.Room(top, height);

    private (double Below, IReadOnlyList<int> Unlabelled) Picture(double top)
    {
        var body = _pages.Body;
        if (_stock.Form.IsBar())
        {
            var picture = new BarPicture(_context, _pages.Scene, _layout, _item.Sequence);
            var (height, rows) = picture.Measure(body.Width, body.Height * MostBar);
            picture.Draw(new Box(body.X, top, body.Width, height), rows);
            return (top + height + 1, []);
        }

        var sheet = _layout.Sheet;
        var wide = body.Width - 34;
        var tall = Math.Min(wide * View.Millimetres(sheet.SizeY) / View.Millimetres(sheet.SizeX), body.Height * MostPlate) + PlatePicture.Below + 14;
        var result = new PlatePicture(_context, _pages.Scene, _layout, _item.Sequence).Draw(new Box(body.X, top, body.Width, tall));
        Details.Frames(_pages.Scene, _context, result.View, Details.Windows(_context, _layout, result.Unlabelled, DetailArea));
        return (result.View.Box.Bottom + PlatePicture.Below + 1, result.Unlabelled);
    }

    private double Broken(double top)
    {
        var body = _pages.Body;
        var stages = BreakDown.Stages(_item.Sequence);
        var crowded = BreakDown.IsCrowded(stages);
        var left = body.Bottom - top - 7;
        var most = left < LeastBreakDown ? body.Height * MostBreakDown : Math.Min(left, body.Height * MostBreakDown);
        var height = crowded ? SmallPlate.HeightFor(_layout, body.Width, body.Height * MostBreakDown) : BreakDown.HeightFor(_layout, stages.Count, body.Width, most);
        var y = Room(top, height + 6.6);
        _pages.Scene.Text(Layer.Page, _context.Texts.BreakDownTitle, body.X, y + 4.6, Print.Head, body, Face.Bold);
        y += 6.4;
        if (!crowded)
        {
            BreakDown.Draw(_pages.Scene, _context, _layout, stages, new Box(body.X, y, body.Width, height));
            return y + height;
        }

        for (var at = 0; at < stages.Count; at++)
        {
            y = Room(y, height);
            BreakDown.Stage(_pages.Scene, _context, _layout, stages[at], at + 1, new Box(body.X, y, body.Width, height));
            y += height + 2;
        }

        return y;
    }

    private double Key(double top)
    {
        var entries = KeyList.Entries(_context, _layout);
        var y = top + 1;
        for (var drawn = 0; drawn < entries.Count;)
        {
            var rest = entries[drawn..];
            var height = Math.Min(KeyList.HeightFor(_context, rest, _pages.Body.Width), _pages.Body.Bottom - y);
            if (height >= KeyList.Line)
            {
                drawn += KeyList.Draw(_pages.Scene, _context, rest, new Box(_pages.Body.X, y, _pages.Body.Width, height));
                y += height;
            }

            if (drawn < entries.Count)
            {
                y = _pages.Next();
            }
        }

        return y;
    }

    // What the parts list says of a part may matter here: which faces must not be scratched, say.
    private double PartNotes(double top)
    {
        // Parts with the same note are named together.
        var notes = _layout.Pieces.Select(piece => piece.PartId).Distinct(StringComparer.Ordinal).Where(part => _context.Part(part).Note.Length > 0)
            .GroupBy(part => _context.Part(part).Note, part => _context.NumberOf(part), StringComparer.Ordinal)
            .Select(group => $"{SheetContext.Fill(_context.Texts.PartNumber, Ranges.Text([.. group.Order()]))}: {group.Key}").ToArray();
        return notes.Length == 0 ? top : _pages.Paragraph(string.Join("; ", notes), top, 10, Print.Least, 0.6);
    }

    private double Notes(double top)
    {
        var text = _context.RulerNote(_layout);
        if (_saw.Kind == SawKind.Cutter)
        {
            text += " " + SheetContext.Fill(_context.Texts.CutterNote, _context.Setting(_saw.Kerf));
        }

        return _pages.Paragraph(text, top, 12, Print.Least, 1) + 1;
    }

    private double OutlineList(double top)
    {
        var texts = _context.Texts;
        top = Room(top, 24);
        _pages.Scene.Text(Layer.Page, texts.Outlines, _pages.Body.X, top + 4, Print.Head, _pages.Body, Face.Bold);
        Column[] columns =
        [
            new("", 11), new("", 12, Align.Right, Face.Bold), new(texts.Part, _pages.Body.Width - 11 - 12 - 44 - 60),
            new(texts.Size, 44), new(texts.Position, 60, Align.Left, Face.Bold),
        ];
        var rows = _item.Sequence.Outlines.Select(outline => new[]
        {
            "□", SheetContext.Text(outline.Number), $"{SheetContext.Fill(_context.Texts.PartNumber, _context.Number(outline.PartId))} {outline.PartId}{(_layout.Pieces[outline.Index].Spare ? ", " + _context.Texts.Spare : "")}", _context.SizeOf(_layout.Pieces[outline.Index].Area, _stock),
            $"{_context.Length(outline.Area.X - _layout.MeasuredFrom.X, false)}, {_context.Length(outline.Area.Y - _layout.MeasuredFrom.Y, false)}",
        }).ToArray();
        return Table.Draw(_pages, top + 5.6, columns, rows, 3.8, title: SheetContext.Fill(texts.Continued, texts.Outlines));
    }

    private Box DetailArea => _pages.Body with { Height = (_pages.Body.Height / 2) - 8 };

    // Details follow each other down the page, each as tall as it needs at the full width.
    private double DetailPages(IReadOnlyList<int> unlabelled, double below)
    {
        const double Title = 6;
        var area = DetailArea;
        var windows = Details.Windows(_context, _layout, unlabelled, area);
        var y = below + 4;
        for (var index = 0; index < windows.Count; index++)
        {
            var wide = _pages.Body.Width - 18;
            var height = Math.Min((wide * View.Millimetres(windows[index].SizeY) / View.Millimetres(windows[index].SizeX)) + PlatePicture.Below + 3, area.Height);
            y = Room(y, Title + height);
            _pages.Scene.Text(Layer.Page, SheetContext.Fill(_context.Texts.DetailTitle, index + 1), _pages.Body.X, y + 4, Print.Head, _pages.Body, Face.Bold);
            new PlatePicture(_context, _pages.Scene, _layout, _item.Sequence).Draw(_pages.Body with { Y = y + Title, Height = height }, windows[index]);
            y += Title + height + 2;
        }

        return y;
    }
}
