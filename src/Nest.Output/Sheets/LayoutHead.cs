using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>What stands above the picture of a layout: whether the metal changes, what stock it is cut from, and the lines to sign.</summary>
internal sealed class LayoutHead
{
    private readonly SheetPages _pages;
    private readonly SheetContext _context;
    private readonly WorkItem _item;
    private readonly WorkItem? _before;
    private readonly Layout _layout;
    private readonly Stock _stock;
    private readonly Saw _saw;

    /// <param name="before">What is cut before it; null: it is the first.</param>
    public LayoutHead(SheetPages pages, SheetContext context, WorkItem item, WorkItem? before)
    {
        (_pages, _context, _item, _before) = (pages, context, item, before);
        _layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
        _stock = context.Plan.StockOf(_layout);
        _saw = context.Plan.SawOf(_layout);
    }

    /// <summary>Draws it.</summary>
    /// <returns>Where the next may begin.</returns>
    public double Draw(double top) => Sign(Facts(Change(top)));

    // A step of its own, before the metal is fetched; and where a saw begins with a metal, room for what its manual says of it.
    private double Change(double top)
    {
        var texts = _context.Texts;
        var y = _item.ChangesMaterial
            ? _pages.Scene.Paragraph(Layer.Page, "□ " + SheetContext.Fill(texts.ChangeMaterial, _stock.MaterialId), _pages.Body, top + 0.6, 3.8, Face.Bold) + 1
            : top;
        var goesOn = _before is not null && _before.Sequence.SawId == _item.Sequence.SawId
            && _context.Plan.StockOf(_context.Plan.Layouts.First(one => one.Number == _before.Layout)).MaterialId == _stock.MaterialId;
        return goesOn || _saw.Kind == SawKind.Cutter ? y
            : _pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.SignBlade, _stock.MaterialId, "____________"), _pages.Body, y + 1, Print.Least, leading: 1.5) + 0.6;
    }

    private double Facts(double top)
    {
        var texts = _context.Texts;
        var scene = _pages.Scene;
        var body = _pages.Body;
        var title = scene.Text(Layer.Page, $"{_context.FormOf(_stock)} {_stock.MaterialId}   {_context.SizeOf(_stock)}", body.X, top + 4, 5, body, Face.Bold);
        var mass = _stock.PieceMass(_context.Job.MaterialOf(_stock.MaterialId));
        var from = _stock.IsLeftover
            ? SheetContext.Fill(texts.FromRack, _stock.RackMark!) + (_stock.Place is null ? "" : ", " + SheetContext.Fill(texts.RackPlace, _stock.Place))
            : _stock.Id;
        var pieces = _layout.Pieces.Length == 1 ? texts.OnePiece : SheetContext.Fill(texts.Pieces, _layout.Pieces.Length);
        var heavy = mass > _context.Job.LiftLimit ? $" ▲ {texts.Lift}" : "";
        var stays = _layout.Kept ? " · " + texts.StaysAsPlanned : "";
        var facts = $"{from} · {_saw.Id} · {pieces} · {_context.MassOf(mass)}{heavy}{stays}";

        // Behind the size where there is room, else below.
        var beside = title.Right + 5 + FontBook.Width(facts, Face.Regular, 3.4) <= body.Right;
        var y = beside ? top + 6 : scene.Paragraph(Layer.Page, facts, body, top + 6, 3.4);
        if (beside)
        {
            scene.Text(Layer.Page, facts, title.Right + 5, top + 4, 3.4, body);
        }

        var ticks = _layout.Count <= 24 ? string.Concat(Enumerable.Repeat("□ ", _layout.Count)) : $"___ / {_layout.Count}";
        var line = $"{texts.StockTicks}: {ticks}";
        if (_item.StackedPieces > 1)
        {
            line += "   " + SheetContext.Fill(texts.Stacked, _item.StackedPieces);
        }

        return _layout.Count > 1 ? scene.Paragraph(Layer.Page, line, body, y + 0.4, 3.8, Face.Bold) : y;
    }

    // Who, when, and what was found: kerf and length are never as typed.
    private double Sign(double top)
    {
        const string Blank = "_________";
        var texts = _context.Texts;
        var line = $"{texts.SignDate} {Blank}   {texts.SignInitials} {Blank}   {SheetContext.Fill(texts.SignKerf, Blank, _context.Setting(_saw.Kerf))}";
        if (_stock.Form.IsBar() && Needed() is var needed && needed > Length.Zero)
        {
            line += "   " + SheetContext.Fill(texts.SignBar, Blank, _context.Length(needed));
        }
        else if (!_stock.Form.IsBar())
        {
            line += "   " + SheetContext.Fill(texts.SignPlate, Blank);
        }

        return _pages.Scene.Paragraph(Layer.Page, line, _pages.Body, top + 1.4, Print.Least, leading: 1.5);
    }

    // Length without which the last blank is too short.
    private Length Needed()
    {
        if (_layout.Pieces.IsEmpty)
        {
            return Length.Zero;
        }

        return TrimmedEdges.FromRight(_stock, _layout.Trims)
            ? _layout.Sheet.SizeX - _layout.Pieces.Min(piece => piece.Area.X)
            : _layout.Pieces.Max(piece => piece.Area.Right);
    }
}
