using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Pictures;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>What stands above the steps of a layout: facts, the picture with numbered cuts, key, notes. Drawn on pages of its own, so
/// that several sizes can be tried.</summary>
internal sealed class LayoutTop
{
    private readonly SheetContext _context;
    private readonly Layout _layout;
    private readonly WorkItem _item;
    private readonly SheetPages _pages;
    private readonly Stock _stock;
    private readonly Saw _saw;

    /// <param name="pages">Blank pages to draw on.</param>
    /// <param name="head">Of every page of the layout.</param>
    /// <param name="size">Of the picture.</param>
    public LayoutTop(SheetPages pages, SheetContext context, Layout layout, WorkItem item, string head, LayoutSize size)
    {
        (_context, _layout, _item, _pages) = (context, layout, item, pages);
        _stock = context.Plan.StockOf(layout);
        _saw = context.Plan.SawOf(layout);
        var y = pages.Start(head, context.CountOf(layout));
        y = Change(y);
        y = Facts(y);
        (y, var result) = Picture(y + 1, size);
        y = Key(y);
        Bottom = result is null ? y : Notes(y, result);
        Unlabelled = result?.Unlabelled ?? [];
    }

    /// <summary>The pages, on the last of which the steps go on.</summary>
    public SheetPages Pages => _pages;

    /// <summary>Y below it on its last page.</summary>
    public double Bottom { get; }

    /// <summary>Pieces for which details are needed.</summary>
    public IReadOnlyList<int> Unlabelled { get; }

    /// <summary>Room for a detail.</summary>
    public static Box DetailArea(SheetPages pages) => pages.Body with { Height = (pages.Body.Height / 2) - 8 };

    /// <summary>Height of the area of a plate's picture.</summary>
    public static double PlateHeight(SheetPages pages, Layout layout, double share)
    {
        var sheet = layout.Sheet;
        var wide = pages.Body.Width - 32;
        return (Math.Min(wide * View.Millimetres(sheet.SizeY) / View.Millimetres(sheet.SizeX), pages.Body.Height * 0.5) * share) + 28 + RollingArrow.Band;
    }

    // A step of its own, before the metal is fetched.
    private double Change(double top) => _item.ChangesMaterial
        ? _pages.Scene.Paragraph(
            Layer.Page, "□ " + SheetContext.Fill(_context.Texts.ChangeMaterial, _stock.MaterialId), _pages.Body, top + 0.6, 3.6, Face.Bold) + 1
        : top;

    private double Facts(double top)
    {
        var texts = _context.Texts;
        var scene = _pages.Scene;
        var body = _pages.Body;
        scene.Text(Layer.Page, $"{_context.FormOf(_stock)} {_stock.MaterialId}   {_context.SizeOf(_stock)}", body.X, top + 3.4, 4.4, body, Face.Bold);
        var mass = _stock.PieceMass(_context.Job.MaterialOf(_stock.MaterialId));
        var from = _stock.IsLeftover
            ? SheetContext.Fill(texts.FromRack, _stock.RackMark!) + (_stock.Place is null ? "" : ", " + SheetContext.Fill(texts.RackPlace, _stock.Place))
            : _stock.Id;
        var pieces = _layout.Pieces.Length == 1 ? texts.OnePiece : SheetContext.Fill(texts.Pieces, _layout.Pieces.Length);
        var yield = SheetContext.Fill(texts.Yield, _context.Percent(SheetContext.YieldOf(_layout, _stock)));
        var heavy = mass > _context.Job.LiftLimit ? $" ▲ {texts.Lift}" : "";
        var parts = $"{from} · {_saw.Id} · {SheetContext.Fill(texts.Kerf, _context.Setting(_saw.Kerf))} · {pieces} · {yield} · {_context.MassOf(mass)}{heavy}";
        var y = scene.Paragraph(Layer.Page, parts, body, top + 5.2, 3);
        var ticks = _layout.Count <= 24 ? string.Concat(Enumerable.Repeat("□ ", _layout.Count)) : $"___ / {_layout.Count}";
        var line = $"{texts.StockTicks}: {ticks}";
        if (_item.StackedPieces > 1)
        {
            line += "   " + SheetContext.Fill(texts.Stacked, _item.StackedPieces);
        }

        return _layout.Count > 1 ? scene.Paragraph(Layer.Page, line, body, y + 0.4, 3.4, Face.Bold) : y;
    }

    private (double Below, PictureResult? Result) Picture(double top, LayoutSize size)
    {
        var body = _pages.Body;
        if (_stock.Form.IsBar())
        {
            var picture = new BarPicture(_context, _pages.Scene, _layout, _item.Sequence, size.Picture);
            var (height, rows) = picture.Measure(body.Width, body.Height * 0.62);
            picture.Draw(new Box(body.X, top + 2, body.Width, height), rows);
            return (top + 2 + height, null);
        }

        var area = new Box(body.X, top, body.Width, PlateHeight(_pages, _layout, size.Picture));
        var result = new PlatePicture(_context, _pages.Scene, _layout, _item.Sequence).Draw(area);
        Details.Frames(_pages.Scene, _context, result.View, Details.Windows(_context, _layout, result.Unlabelled, DetailArea(_pages)));
        return (result.View.Box.Bottom + Ruler.Band + RollingArrow.Band + 3, result);
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

    private double Notes(double top, PictureResult result)
    {
        var text = _context.RulerNote(_layout);
        if (result.Unnumbered.Count > 0)
        {
            text += " " + SheetContext.Fill(_context.Texts.Unnumbered, Ranges(result.Unnumbered));
        }

        if (_saw.Kind == SawKind.Cutter)
        {
            text += " " + SheetContext.Fill(_context.Texts.CutterNote, _context.Setting(_saw.Kerf));
        }

        if (top + 8 > _pages.Body.Bottom)
        {
            top = _pages.Next();
        }

        return _pages.Scene.Paragraph(Layer.Page, text, _pages.Body, top + 1, 2.6);
    }

    /// <summary>1, 2, 3, 7 → 1–3, 7.</summary>
    internal static string Ranges(IReadOnlyList<int> numbers)
    {
        var sorted = numbers.Order().ToArray();
        var parts = new List<string>();
        for (var index = 0; index < sorted.Length;)
        {
            var until = index;
            while (until + 1 < sorted.Length && sorted[until + 1] == sorted[until] + 1)
            {
                until++;
            }

            parts.Add(until == index ? SheetContext.Text(sorted[index]) : $"{SheetContext.Text(sorted[index])}–{SheetContext.Text(sorted[until])}");
            index = until + 1;
        }

        return string.Join(", ", parts);
    }
}
