using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Turns a sheet in inflated sizes into a layout in true sizes: each node loses the kerf behind it, a rest of at most one
/// kerf is the dust of the last cut and vanishes.</summary>
internal static class LayoutBuilder
{
    public static PlateLayout Build(ThroughModel model, CutSheet sheet, int count)
    {
        var pieces = ImmutableArray.CreateBuilder<PlatePlacement>();
        var tree = Node(model, sheet, 0, 0, 0, pieces);
        return new PlateLayout(sheet.Stock, count, pieces.ToImmutable(), tree);
    }

    private static PlateNode Node(
        ThroughModel model, CutSheet sheet, int index, long x, long y, ImmutableArray<PlatePlacement>.Builder pieces)
    {
        var node = sheet.Nodes[index];
        var area = new PlateRect(x, y, node.Width - model.Kerf, node.Height - model.Kerf);
        if (node.Item >= 0)
        {
            pieces.Add(new PlatePlacement(node.Item, area, node.Turned));
            return new PlateNode(PlateNodeKind.Piece, area, CutDirection.Crosscut, [], node.Item, node.Turned);
        }

        if (node.Item != SheetNode.Split)
        {
            return new PlateNode(PlateNodeKind.Rest, area, CutDirection.Crosscut, []);
        }

        var children = ImmutableArray.CreateBuilder<PlateNode>();
        foreach (var child in Ordered(sheet, index))
        {
            var size = sheet.Nodes[child];
            if ((node.Direction == CutSheet.Across ? size.Width : size.Height) > model.Kerf)
            {
                children.Add(Node(model, sheet, child, x, y, pieces));
            }

            if (node.Direction == CutSheet.Across)
            {
                x += size.Width;
            }
            else
            {
                y += size.Height;
            }
        }

        return new PlateNode(
            PlateNodeKind.Split, area, node.Direction == CutSheet.Across ? CutDirection.Crosscut : CutDirection.Rip, children.ToImmutable());
    }

    /// <summary>Regions keep their places; else equal widths lie side by side (one setting), large ones first and the rest last.</summary>
    private static IEnumerable<int> Ordered(CutSheet sheet, int split)
    {
        var children = new List<int>();
        for (var c = sheet.Nodes[split].FirstChild; c >= 0; c = sheet.Nodes[c].Next)
        {
            children.Add(c);
        }

        if (children.Exists(c => sheet.Nodes[c].Region))
        {
            return children;
        }

        var across = sheet.Nodes[split].Direction == CutSheet.Across;
        return children
            .OrderBy(c => sheet.Nodes[c].Item == SheetNode.Rest)
            .ThenByDescending(c => across ? sheet.Nodes[c].Width : sheet.Nodes[c].Height)
            .ThenBy(c => sheet.Nodes[c].Item)
            .ThenBy(c => c);
    }
}
