using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>How many cuts a layout takes and how much section they go through.</summary>
/// <param name="Section">Σ cut length × nominal thickness; on bars Σ section areas.</param>
public readonly record struct SawWork(int Cuts, Area Section)
{
    /// <summary>Minutes at the saw: handling of each cut plus section ÷ rate.</summary>
    public decimal Minutes(Saw saw, string family) =>
        (Cuts * saw.HandlingMinutes) + (Section.ToSquareCentimetres() / saw.RateFor(family));

    /// <summary>Section that an angled cut goes through; zero for a square one, which is not a cut of its own.</summary>
    public static Area Angled(Stock stock, Angle angle) => angle.IsSquare ? Area.Zero : angle.Through(stock.Section);

    /// <summary>Counts the cuts of one stock piece; see <see cref="CostModel"/> for what counts as a cut.</summary>
    public static SawWork Of(Saw saw, Stock stock, Layout layout)
    {
        if (saw.Kind == SawKind.Cutter)
        {
            var outline = Length.Zero;
            foreach (var piece in layout.Pieces)
            {
                outline += (piece.Area.SizeX + piece.Area.SizeY) * 2;
            }

            return new(layout.Pieces.Length, outline * stock.Thickness);
        }

        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        if (stock.Form.IsBar())
        {
            var crosscuts = layout.Pieces.Length + (trimmed.Left ? 1 : 0);
            var section = stock.Section * crosscuts;
            foreach (var ends in layout.Pieces.Select(piece => piece.Ends).OfType<EndAngles>())
            {
                crosscuts += ends.Cuts;
                section += Angled(stock, ends.Start) + Angled(stock, ends.End);
            }

            return new(crosscuts, section);
        }

        var cuts = 0;
        var length = Length.Zero;
        var (sheet, trims) = (layout.Sheet, layout.Trims);
        var inner = sheet.SizeX - (trimmed.Left ? trims.Left : Length.Zero) - (trimmed.Right ? trims.Right : Length.Zero);
        Trim(trimmed.Left, sheet.SizeY);
        Trim(trimmed.Right, sheet.SizeY);
        Trim(trimmed.Bottom, inner);
        Trim(trimmed.Top, inner);
        if (layout.Tree is { } tree)
        {
            Count(tree);
        }

        return new(cuts, length * stock.Thickness);

        void Trim(bool made, Length across)
        {
            if (made)
            {
                cuts++;
                length += across;
            }
        }

        void Count(CutNode node)
        {
            if (node.Kind != CutNodeKind.Split)
            {
                return;
            }

            var last = node.Children[^1].Area;
            var rip = node.Direction == CutDirection.Rip;
            var flush = rip ? last.Top == node.Area.Top : last.Right == node.Area.Right;
            var here = node.Children.Length - (flush ? 1 : 0);
            cuts += here;
            var metal = trimmed.Metal(layout, node.Area);
            length += (rip ? metal.SizeX : metal.SizeY) * here;
            foreach (var child in node.Children)
            {
                Count(child);
            }
        }
    }
}
