using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The steps of a layout with boxes to tick. Each further page begins with the picture again, in which its cuts are lit.</summary>
internal sealed class Steps
{
    private const double Lead = 1.25;
    private const double Pad = 1;
    private const double Tick = 5;
    private const double TickGap = 0.8;
    private const int TicksInRow = 3;

    // More than that many are counted in a box to write in.
    private const int MostTicks = 9;
    private const double WidthTicks = 18.5;
    private const double WidthNumber = 16;
    private const double WidthSet = 40;
    private const double MostPicture = 62;

    private readonly SheetPages _pages;
    private readonly SheetContext _context;
    private readonly Layout _layout;
    private readonly WorkItem _item;
    private readonly StepText _words;
    private readonly bool _bar;

    private Steps(SheetPages pages, SheetContext context, Layout layout, WorkItem item)
    {
        (_pages, _context, _layout, _item) = (pages, context, layout, item);
        _words = new(context, layout, item.StillFrom);
        _bar = context.Plan.StockOf(layout).Form.IsBar();
    }

    private double WidthIcon => _bar ? 0 : StepIcon.Width + 1;

    private double WidthDo => (_pages.Body.Width - WidthTicks - WidthNumber - WidthIcon - WidthSet) * (_bar ? 0.48 : 0.56);

    private double WidthOff => _pages.Body.Width - WidthTicks - WidthNumber - WidthIcon - WidthSet - WidthDo;

    /// <returns>Y below the steps.</returns>
    public static double Draw(SheetPages pages, SheetContext context, Layout layout, WorkItem item, double top)
    {
        return new Steps(pages, context, layout, item).All(top);
    }

    private double All(double top)
    {
        var rows = StepRow.Of(_item.Sequence);
        var next = 0;
        while (next < rows.Count)
        {
            // On the first page the picture stands above; on a new one it is drawn again, for the rows that the page holds.
            var first = next == 0 && top + HeadHeight + Enough(rows) <= _pages.Body.Bottom;
            var y = first ? top : _pages.Next();
            var picture = first ? 0 : PictureHeight();
            var room = _pages.Body.Bottom - y - HeadHeight - picture;
            var until = next;
            StepRow? before = null;
            var cells = new List<(List<Cell> Cells, double Height)>();
            for (; until < rows.Count; until++)
            {
                var set = Cells(rows[until], before);
                var height = Height(rows[until], set);
                if (cells.Count > 0 && height > room)
                {
                    break;
                }

                cells.Add((set, height));
                room -= height;
                before = rows[until];
            }

            var here = rows[next..until];
            if (!first)
            {
                Picture(y, picture, here);
            }

            y = Head(next == 0 ? _context.Texts.Steps : _context.Texts.StepsMore, y + picture, next == 0 && !_bar);
            for (var at = 0; at < here.Count; at++)
            {
                Row(here[at], cells[at].Cells, y, cells[at].Height);
                y += cells[at].Height;
            }

            next = until;
            top = y;
        }

        return top;
    }

    // A page is begun below a picture where all steps have room there, or a good part of them.
    private double Enough(List<StepRow> rows)
    {
        var all = rows.Sum(row => Height(row, Cells(row, null)));
        return Math.Min(all, _bar ? _pages.Body.Height * 0.2 : _pages.Body.Height * 0.34);
    }

    private double PictureHeight() => _bar
        ? new BarPicture(_context, _pages.Scene, _layout, _item.Sequence).Measure(_pages.Body.Width, _pages.Body.Height * 0.5).Height + 2
        : SmallPlate.HeightFor(_layout, _pages.Body.Width * 0.75, MostPicture) + 2;

    private void Picture(double y, double height, IReadOnlyList<StepRow> rows)
    {
        var body = _pages.Body;
        if (_bar)
        {
            var lit = rows.SelectMany(row => row.Steps).Select(step => step.Number).ToHashSet();
            var picture = new BarPicture(_context, _pages.Scene, _layout, _item.Sequence, lit);
            picture.Draw(body with { Y = y, Height = height - 2 }, picture.Measure(body.Width, body.Height * 0.5).Rows);
            return;
        }

        var title = SheetContext.Fill(_context.Texts.CutsOfPage, Ranges.Text([.. rows.SelectMany(row => row.Steps).Select(step => step.Number).Order()]));
        new SmallPlate(_context, _pages.Scene, _layout).Whole(new Box(body.X, y, body.Width * 0.75, height - 2), title, _item.Sequence, rows);
    }

    private sealed record Cell(double X, double Width, IReadOnlyList<(string Text, Face Face, double Size)> Lines)
    {
        public double Height => Lines.Sum(line => line.Size * Lead);
    }

    private double Height(StepRow row, List<Cell> cells) =>
        Math.Max(Math.Max(cells.Max(cell => cell.Height), TickHeight(row)), _bar ? 0 : StepIcon.Height - 1) + (2 * Pad);

    private List<Cell> Cells(StepRow row, StepRow? before)
    {
        var first = row.First;
        var x = _pages.Body.X + WidthTicks;
        var times = row.Steps.Count > 1 ? SheetContext.Fill(_context.Texts.Times, row.Steps.Count) : "";
        var number = Wrapped(x, WidthNumber, (row.Numbers, Face.Bold, row.Steps.Count == 1 ? 5 : 4), (times, Face.Bold, 5));
        x += WidthNumber + WidthIcon;
        var fresh = _words.IsSet(first);
        var (shown, error) = _words.SettingParts(first);
        var note = first.Marked ? "" : (fresh ? "► " : "") + _words.SettingNote(first);
        var set = Wrapped(x, WidthSet, (error, Face.Mono, Print.Least), (note, fresh ? Face.Bold : Face.Regular, Print.Least));
        set = set with { Lines = [(shown, Face.Bold, Print.Setting), .. set.Lines] };
        x += WidthSet;

        // What lies against the fence as it did is not said again.
        var against = before is not null && !fresh && !first.Marked && !before.Last.Marked && before.Last.Against == first.Against && first.StillOnSaw || first.Turn ? "" : _words.Against(first);
        var what = Wrapped(x, WidthDo,
        [
            (_bar ? "" : $"{_words.Direction(first)}: {_words.OnSaw(row)}", Face.Regular, 3.4),
            (_bar ? _words.Direction(first) : "", Face.Bold, 3.6),
            (_words.Handling(first), Face.Bold, 3.4), (first.Marked ? _words.SettingNote(first) : "", Face.Bold, 3.6), (against, Face.Regular, 3.4),
            .. _words.Cautions(row).Select(line => ("! " + line, Face.Bold, 3.4)),
        ]);
        x += WidthDo;
        var off = Wrapped(x, WidthOff, [.. _words.Off(row).Select(line => (line, Face.Regular, 3.4)), .. Measured(row)]);
        return [number, set, what, off];
    }

    // A rest that is kept takes all errors of kerf and length: it is measured.
    private IEnumerable<(string, Face, double)> Measured(StepRow row) =>
        _bar && row.Last.Yields.Any(piece => piece.Kind == WorkKind.Remnant) ? [(SheetContext.Fill(_context.Texts.KeepMeasured, "________"), Face.Regular, 3.4)] : [];

    private static Cell Wrapped(double x, double width, params (string Text, Face Face, double Size)[] lines)
    {
        var wrapped = lines.Where(line => line.Text.Length > 0)
            .SelectMany(line => FontBook.Wrap(line.Text, line.Face, line.Size, width - 2).Select(part => (part, line.Face, line.Size)));
        return new(x, width, [.. wrapped]);
    }

    private static double TickHeight(StepRow row) =>
        row.Steps.Count > MostTicks ? Tick + 2 : Math.Ceiling(row.Steps.Count / (double)TicksInRow) * (Tick + TickGap);

    private void Row(StepRow row, List<Cell> cells, double y, double height)
    {
        var scene = _pages.Scene;
        var body = _pages.Body;

        // A new setting starts a block: the eye finds it by the heavy line.
        var heavy = _words.IsSet(row.First) || row.First.Marked;
        scene.Line(Layer.Page, body.X, y, body.Right, y, heavy ? new Stroke(PartLook.Ink, 0.5) : new Stroke(Tint.Of(0x999999), 0.15));
        Ticks(row.Steps.Count, body.X + 0.6, y + Pad);
        if (!_bar)
        {
            StepIcon.Draw(scene, row, body.X + WidthTicks + WidthNumber, y + 0.6);
        }

        foreach (var cell in cells)
        {
            var at = y + Pad;
            foreach (var (text, face, size) in cell.Lines)
            {
                if (size >= Print.Setting)
                {
                    Setting(text, cell, at, y, height);
                }
                else
                {
                    scene.Text(Layer.Page, text, cell.X + 1, at + (FontBook.CapHeight * size), size, new Box(cell.X, y, cell.Width, height), face);
                }

                at += size * Lead;
            }
        }
    }

    // The figure as large as it is said to be; its unit, a word, smaller behind it. Only what is longer than the column shrinks.
    private void Setting(string text, Cell cell, double top, double y, double height)
    {
        const double Unit = 4.6;
        var blank = text.LastIndexOf(' ');
        var (figure, unit) = blank > 0 && text[(blank + 1)..].All(char.IsLetter) ? (text[..blank], text[(blank + 1)..]) : (text, "");
        var rest = cell.Width - 2 - (unit.Length == 0 ? 0 : FontBook.Width(unit, Face.Bold, Unit) + 1);
        var size = Math.Min(Print.Setting, rest / FontBook.Width(figure, Face.Bold, 1));
        var within = new Box(cell.X, y, cell.Width + 1, height);
        var box = _pages.Scene.Text(Layer.Page, figure, cell.X + 1, top + (FontBook.CapHeight * Print.Setting), size, within, Face.Bold);
        if (unit.Length > 0)
        {
            _pages.Scene.Text(Layer.Page, unit, box.Right + 1, top + (FontBook.CapHeight * Print.Setting), Unit, within, Face.Bold);
        }
    }

    private void Ticks(int count, double left, double top)
    {
        var scene = _pages.Scene;
        if (count > MostTicks)
        {
            var tally = new Box(left, top, WidthTicks - 3, Tick + 2);
            scene.Box(Layer.Page, tally, null, new Stroke(PartLook.Ink, 0.35));
            scene.Text(Layer.Page, $"/ {SheetContext.Text(count)}", tally.Right - 1, tally.Bottom - 2, 3.4, tally, Face.Regular, Align.Right);
            return;
        }

        for (var at = 0; at < count; at++)
        {
            scene.Box(Layer.Page, new Box(left + (at % TicksInRow * (Tick + TickGap)), top + (at / TicksInRow * (Tick + TickGap)), Tick, Tick), null, new Stroke(PartLook.Ink, 0.35));
        }
    }

    private double HeadHeight => _bar ? 6 : 16;

    private double Head(string title, double top, bool chalk)
    {
        var body = _pages.Body;
        var texts = _context.Texts;
        var y = top;
        if (!_bar || title != texts.Steps)
        {
            _pages.Scene.Text(Layer.Page, title, body.X, top + 4, Print.Head, body, Face.Bold);
            y += 5;
        }

        if (chalk)
        {
            y = _pages.Scene.Paragraph(Layer.Page, "□ " + texts.ChalkFirst, body, y + 0.6, 3.4, Face.Bold);
        }

        Column[] columns = [new("", WidthTicks), new(texts.HeadCut, WidthNumber + WidthIcon), new(texts.HeadSet, WidthSet), new(texts.HeadDo, WidthDo), new(texts.HeadOff, WidthOff)];
        return y + HeadRow.Draw(_pages.Scene, body.X, y, columns, 1);
    }
}
