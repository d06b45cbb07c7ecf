using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>What a picture could not show at its scale.</summary>
/// <param name="View">Where the stock is on the paper.</param>
/// <param name="Unlabelled">Pieces without room for even their number.</param>
/// <param name="Unnumbered">Cuts without room for their number.</param>
internal sealed record PictureResult(View View, IReadOnlyList<int> Unlabelled, IReadOnlyList<int> Unnumbered);

/// <summary>A plate (or a window of it) to scale: pieces, kerf, offcuts, scrap, rulers, numbered cuts.</summary>
internal sealed class PlatePicture(SheetContext context, SceneBuilder scene, Layout layout, CutSequence? sequence)
{
    private const double RunningBand = 13;

    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    /// <summary>Draws into the area.</summary>
    /// <param name="window">Null: the whole plate.</param>
    public PictureResult Draw(Box area, Rect? window = null)
    {
        var whole = window is null;
        var running = whole && sequence is { Steps.Length: > 0 };
        var inner = Box.FromEdges(
            area.X + Ruler.Band + 6, area.Y + (running ? TopBand() : 2), area.Right - (running ? RunningBand + 3 : 6),
            area.Bottom - Ruler.Band - RollingArrow.Band - 4);
        var view = new View(window ?? layout.Sheet, inner);
        Ground(view);
        foreach (var piece in layout.Pieces)
        {
            var box = view.Clipped(piece.Area);
            PartLook.Fill(scene, Layer.Piece, box, context.NumberOf(piece.PartId));
            if (!context.Part(piece.PartId).MayTurn)
            {
                RollingArrow.OnBlank(scene, box);
            }
        }

        foreach (var keepOut in _stock.KeepOuts)
        {
            KeepOut(view.Clipped(keepOut));
        }

        scene.Box(Layer.Sheet, view.Box, null, new Stroke(PartLook.Ink, 0.35));
        Reference(view);
        Ruler.Along(scene, context, view, layout.MeasuredFrom.X, view.Box.Bottom + 2.6);
        Ruler.Across(scene, context, view, layout.MeasuredFrom.Y, view.Box.X - 2.6);
        RollingArrow.OfPlate(scene, context, view.Box.X, view.Box.Right, view.Box.Bottom + 2.6 + Ruler.Band);
        var outside = running ? RunningMeasures.Draw(scene, context, layout, sequence!, view) : [];
        var unlabelled = Pieces(view);
        Offcuts(view);
        var unnumbered = sequence is null ? [] : CutMarks.Draw(scene, sequence, view, outside);
        return new(view, unlabelled, unnumbered);
    }

    // Room for running measures of crosscuts, or only for the mark of a trim.
    private double TopBand()
    {
        var through = sequence!.Steps.Where(step => step.OnSaw.Kind == WorkKind.Stock && step.Direction == CutDirection.Crosscut).ToArray();
        return through.Length == 0 ? 2 : through.All(step => step.Purpose == CutPurpose.Trim) ? 7 : RunningBand + 2;
    }

    private void Ground(View view)
    {
        if (_saw.Kind == SawKind.Cutter)
        {
            PartLook.FillScrap(scene, view.Box);
            Offcuts(keep: false);
            Offcuts(keep: true);
            foreach (var piece in layout.Pieces)
            {
                var gap = new Rect(piece.Area.X - _saw.Kerf, piece.Area.Y - _saw.Kerf, piece.Area.SizeX + (_saw.Kerf * 2), piece.Area.SizeY + (_saw.Kerf * 2));
                scene.Box(Layer.Cut, view.Clipped(gap), Tint.White);
            }
        }
        else
        {
            // Whatever is neither piece nor offcut nor trim is kerf: the ground shows through.
            scene.Box(Layer.Cut, view.Box, PartLook.Kerf);
            foreach (var trim in TrimAreas())
            {
                PartLook.FillScrap(scene, view.Clipped(trim), fine: true);
            }

            Offcuts(keep: false);
            Offcuts(keep: true);
        }

        void Offcuts(bool keep)
        {
            foreach (var offcut in layout.Offcuts.Where(offcut => offcut.Keep == keep))
            {
                var box = view.Clipped(offcut.Area);
                if (keep)
                {
                    PartLook.FillKeep(scene, box);
                }
                else
                {
                    PartLook.FillScrap(scene, box);
                }
            }
        }
    }

    /// <summary>The solid part of the trims: what falls off beside the kerf.</summary>
    private IEnumerable<Rect> TrimAreas()
    {
        var sheet = layout.Sheet;
        var usable = layout.Usable;
        var zero = Length.Zero;
        var trims = layout.Trims;
        var trimmed = TrimmedEdges.Of(_saw, _stock, layout);
        var left = Solid(trims.Left, trimmed.Left);
        var right = Solid(trims.Right, trimmed.Right);
        var bottom = Solid(trims.Bottom, trimmed.Bottom);
        var top = Solid(trims.Top, trimmed.Top);
        if (left > zero)
        {
            yield return new(zero, zero, left, sheet.SizeY);
        }

        if (right > zero)
        {
            yield return new(sheet.SizeX - right, zero, right, sheet.SizeY);
        }

        if (bottom > zero)
        {
            yield return new(usable.X, zero, usable.SizeX, bottom);
        }

        if (top > zero)
        {
            yield return new(usable.X, sheet.SizeY - top, usable.SizeX, top);
        }

        // What is not cut off falls with what lies beside it.
        Length Solid(Length trim, bool cut) => Length.Max(zero, cut ? trim - _saw.Kerf : trim);
    }

    private void KeepOut(Box box)
    {
        scene.Box(Layer.KeepOut, box, Tint.White, new Stroke(PartLook.KeepOut, 0.5));
        scene.Lines(Layer.KeepOut, [new(box.X, box.Y, box.Right, box.Bottom), new(box.X, box.Bottom, box.Right, box.Y)], new Stroke(PartLook.KeepOut, 0.4));
        PieceLabel.Set(scene, Layer.KeepOut, box, [[context.Texts.KeepOut]], true, 2.6, PartLook.KeepOut);
    }

    /// <summary>The two edges that everything is measured from, and their corner.</summary>
    private void Reference(View view)
    {
        var pen = new Stroke(PartLook.Reference, 1.1);
        var usable = layout.Usable;
        var x = view.X(layout.MeasuredFrom.X);
        var y = view.Y(layout.MeasuredFrom.Y);
        if (view.Window.X <= usable.X)
        {
            scene.Line(Layer.Ruler, view.Box.X - 1.3, view.Box.Y, view.Box.X - 1.3, view.Box.Bottom, pen);
        }

        if (view.Window.Y <= usable.Y)
        {
            scene.Line(Layer.Ruler, view.Box.X, view.Box.Bottom + 1.3, view.Box.Right, view.Box.Bottom + 1.3, pen);
        }

        if (view.Window.X <= usable.X && view.Window.Y <= usable.Y)
        {
            scene.Add(new CircleElement(Layer.Ruler, x, y, 1.1, Tint.White, new Stroke(PartLook.Reference, 0.4)));
            scene.Lines(Layer.Ruler, [new(x - 1.9, y, x + 1.9, y), new(x, y - 1.9, x, y + 1.9)], new Stroke(PartLook.Reference, 0.3));
            scene.Taken.Add(new(x - 1.9, y - 1.9, 3.8, 3.8));
        }
    }

    private List<int> Pieces(View view)
    {
        var unlabelled = new List<int>();
        for (var index = 0; index < layout.Pieces.Length; index++)
        {
            var piece = layout.Pieces[index];
            var box = view.Clipped(piece.Area);
            var full = view.Map(piece.Area);
            if (box.Width <= 0 || box.Height <= 0 || box.Width * box.Height < full.Width * full.Height * 0.5)
            {
                continue; // only a part of it is in this window: another window shows it whole
            }

            var number = context.Number(piece.PartId);
            var size = context.SizeOf(piece, _stock);
            if (PieceLabel.Set(scene, Layer.Label, box, PieceLabel.Choices(number, piece.PartId, size, box), PartLook.HasPattern(context.NumberOf(piece.PartId))) < 0)
            {
                unlabelled.Add(index);
            }
        }

        return unlabelled;
    }

    private void Offcuts(View view)
    {
        foreach (var (mark, offcut, _) in SheetContext.Kept(layout))
        {
            var name = SheetContext.Fill(context.Texts.Keep, mark);
            string[][] choices = [[name, context.SizeOf(offcut.Area, _stock)], [name], [mark]];
            PieceLabel.Set(scene, Layer.Label, view.Clipped(offcut.Area), choices, true, tint: PartLook.Keep);
        }

        foreach (var offcut in layout.Offcuts.Where(offcut => !offcut.Keep))
        {
            var box = view.Clipped(offcut.Area);
            if (box.Width > 6 && box.Height > 4)
            {
                string[][] choices = [[context.Texts.Scrap, context.SizeOf(offcut.Area, _stock)], [context.Texts.Scrap]];
                PieceLabel.Set(scene, Layer.Label, box, choices, true, 2.6);
            }
        }
    }
}
