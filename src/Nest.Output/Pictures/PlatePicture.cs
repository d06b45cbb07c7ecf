using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>What a picture could not show at its scale.</summary>
/// <param name="View">Where the stock is on the paper.</param>
/// <param name="Unlabelled">Pieces without room for even their number.</param>
internal sealed record PictureResult(View View, IReadOnlyList<int> Unlabelled);

/// <summary>A plate (or a window of it) to scale as a technical drawing: pieces with their labels, strips with their letters, the kerf as a
/// gap, wider for earlier cuts, chains of dimensions, and outside the metal the numbers of the cuts through the whole plate. The numbers of all
/// other cuts stand on the small pictures of the break-down (<see cref="SmallPlate"/>).</summary>
internal sealed class PlatePicture(SheetContext context, SceneBuilder scene, Layout layout, CutSequence? sequence)
{
    /// <summary>Below the plate: chain of dimensions, rolling direction.</summary>
    public const double Below = ChainAt + 2.4 + RollingArrow.Band + 1;

    private const double RunningBand = 18;
    private const double ChainAt = 6.4;

    // Gaps of the first, the second and all later stages are at least so wide on paper.
    private static readonly double[] Gaps = [1.1, 0.7, 0.4];

    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    /// <summary>Draws into the area.</summary>
    /// <param name="window">Null: the whole plate.</param>
    public PictureResult Draw(Box area, Rect? window = null)
    {
        var whole = window is null;
        var running = whole && sequence is { Steps.Length: > 0 };
        var inner = Box.FromEdges(area.X + 12, area.Y + (running ? TopBand() : 2), area.Right - (running ? RunningBand + 3 : 6), area.Bottom - Below);
        var view = new View(window ?? layout.Sheet, inner);
        PlateGround.Draw(scene, layout, _stock, _saw, view);
        foreach (var piece in layout.Pieces)
        {
            var box = view.Clipped(piece.Area);
            PartLook.Fill(scene, Layer.Piece, box, context.NumberOf(piece.PartId));
            if (window is null)
            {
                PartsInBlank.Draw(scene, context.Part(piece.PartId), piece, box);
            }

        }

        Kerfs(view);
        foreach (var keepOut in _stock.KeepOuts)
        {
            KeepOut(view.Clipped(keepOut));
        }

        scene.Box(Layer.Sheet, view.Box, null, new Stroke(PartLook.Ink, 0.35));
        Reference(view);
        Chains(view, whole);
        RollingArrow.OfPlate(scene, context, view.Box.X, view.Box.Right, view.Box.Bottom + ChainAt + 2.4);
        if (running)
        {
            RunningMeasures.Draw(scene, context, layout, sequence!, view);
        }

        if (sequence is not null)
        {
            StripLetters.Draw(scene, context, layout, sequence, view);
        }

        var unlabelled = Pieces(view);
        Offcuts(view);
        return new(view, unlabelled);
    }

    // What a saw turns into chips is missing: a gap, the wider the earlier the cut is made. The deepest come first, so that an earlier cut
    // goes through.
    private void Kerfs(View view)
    {
        if (sequence is null)
        {
            return;
        }

        var stages = CutStages.Of(sequence);
        foreach (var step in sequence.Steps.OrderByDescending(step => stages[step.Number]))
        {
            var box = view.Map(step.Kerf);
            var least = Gaps[Math.Min(stages[step.Number], Gaps.Length) - 1];
            var more = Math.Max(0, least - (step.Direction == CutDirection.Rip ? box.Height : box.Width)) / 2;
            var gap = step.Direction == CutDirection.Rip
                ? Box.FromEdges(box.X, box.Y - more, box.Right, box.Bottom + more)
                : Box.FromEdges(box.X - more, box.Y, box.Right + more, box.Bottom);
            scene.Box(Layer.Cut, gap.Clip(view.Box), Tint.White, new Stroke(PartLook.Ink, 0.15));
        }
    }

    // Sizes of what the first cuts part, and the whole; of a window the window alone.
    private void Chains(View view, bool whole)
    {
        var along = new List<Measure>();
        var up = new List<Measure>();
        var trimmed = TrimmedEdges.Of(_saw, _stock, layout);
        if (whole && sequence is not null && layout.Tree is { Kind: CutNodeKind.Split } tree)
        {
            Parts(tree);

            // Across the first cuts: what the largest piece of them is parted into next.
            if (tree.Children.Where(child => child.Kind == CutNodeKind.Split && child.Direction != tree.Direction).OrderByDescending(child => child.Area.Area).FirstOrDefault() is { } next)
            {
                Parts(next);
            }
        }

        if (along.Count == 0 || DimensionChain.NeedsLeaders(along))
        {
            along = [new(view.Box.X, view.Box.Right, context.Length(view.Window.SizeX))];
        }

        if (up.Count == 0)
        {
            up = [new(view.Box.Y, view.Box.Bottom, context.Length(view.Window.SizeY))];
        }

        DimensionChain.Along(scene, along, view.Box.Bottom + 1.4, view.Box.Bottom + ChainAt, new Box(view.Box.X - 10, view.Box.Bottom, view.Box.Width + 20, ChainAt + 2));
        DimensionChain.Up(scene, up, view.Box.X - 1.4, view.Box.X - 4.6, new Box(view.Box.X - 12, view.Box.Y - 3, 12, view.Box.Height + 6));

        // With a raw edge that stays: the same number as on the metal.
        void Parts(CutNode parent)
        {
            foreach (var area in parent.Children.Select(child => trimmed.Metal(layout, child.Area)))
            {
                if (parent.Direction == CutDirection.Crosscut)
                {
                    along.Add(new(view.X(area.X), view.X(area.Right), context.Length(area.SizeX, false)));
                }
                else
                {
                    up.Add(new(view.Y(area.Top), view.Y(area.Y), context.Length(area.SizeY, false)));
                }
            }
        }
    }

    // Room for running measures of crosscuts, or only for the mark of a trim.
    private double TopBand()
    {
        var through = sequence!.Steps.Where(step => step.OnSaw.Kind == WorkKind.Stock && step.Direction == CutDirection.Crosscut).ToArray();
        return through.Length == 0 ? 2 : through.All(step => step.Purpose == CutPurpose.Trim) ? 10 : RunningBand + 3;
    }

    private void KeepOut(Box box)
    {
        scene.Box(Layer.KeepOut, box, Tint.White, new Stroke(PartLook.KeepOut, 0.5));
        scene.Lines(Layer.KeepOut, [new(box.X, box.Y, box.Right, box.Bottom), new(box.X, box.Bottom, box.Right, box.Y)], new Stroke(PartLook.KeepOut, 0.4));
        PieceLabel.Set(scene, Layer.KeepOut, box, [[context.Texts.KeepOut]], Print.Least, PartLook.KeepOut);
        scene.Taken.Add(box);
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
            scene.Add(new CircleElement(Layer.Ruler, x, y, 0.8, Tint.White, new Stroke(PartLook.Reference, 0.4)));
            scene.Lines(Layer.Ruler, [new(x - 1.3, y, x + 1.3, y), new(x, y - 1.3, x, y + 1.3)], new Stroke(PartLook.Reference, 0.3));
            scene.Taken.Add(new(x - 1.3, y - 1.3, 2.6, 2.6));
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
            var look = context.NumberOf(piece.PartId);
            var room = PartLook.LabelRoom(box, look);
            var along = !context.Part(piece.PartId).MayTurn && _stock.Form == Form.Plate;
            if (along && box.Width >= 8 && room.Height >= 6.4)
            {
                RollingArrow.OnBlank(scene, room);
                room = Box.FromEdges(room.X, room.Y + 2.2, room.Right, room.Bottom);
            }

            var size = context.SizeOf(piece.Area, _stock);
            if ((!piece.Spare || PieceLabel.Set(scene, Layer.Label, room, PieceLabel.Choices($"{number} {context.Texts.Spare}", piece.PartId, size, room)) < 0)
                && PieceLabel.Set(scene, Layer.Label, room, PieceLabel.Choices(number, piece.PartId, size, room)) < 0)
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
            string[][] choices = [[name, context.SizeOf(offcut.Area, _stock), context.Texts.WriteHere], [name, context.SizeOf(offcut.Area, _stock)], [name], [mark]];
            PieceLabel.Set(scene, Layer.Label, view.Clipped(offcut.Area), choices, 4.6, PartLook.Keep);
        }

        foreach (var offcut in layout.Offcuts.Where(offcut => !offcut.Keep))
        {
            var box = view.Clipped(offcut.Area);
            if (box.Width > 6 && box.Height > 4)
            {
                string[][] choices = [[context.Texts.Scrap, context.SizeOf(offcut.Area, _stock)], [context.Texts.Scrap]];
                PieceLabel.Set(scene, Layer.Label, box, choices, Print.Least);
            }
        }
    }
}
