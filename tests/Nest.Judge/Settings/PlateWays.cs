using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;

namespace Nest.Judge.Settings;

/// <summary>What a tree of through-cuts costs and what is set for it.</summary>
/// <remarks>Order of the cuts: raw edges first (left, right, bottom, top), then the tree level by level. On a level the smallest measure that is next in any row is set and every cut of it that
/// is next anywhere is made. In a row the cuts go from the low edge up to the last child that the clamp holds, then from the far edge down to it; waste is not measured but what lies behind it.
/// O(cuts · rows).</remarks>
internal sealed class PlateWays(PlateSheet sheet, LoadSpace loads)
{
    private readonly EdgeTrims _trims = sheet.Trims;
    private bool _right;
    private bool _top;

    /// <param name="loading">Fetching and loading the plate.</param>
    public CutWay Of(PlateTree tree, int load, long loading)
    {
        _right = CutOff(_trims.Right, sheet.Stock.MinLength, tree.All().Any(node => node.Kind >= 0 && node.X + node.SizeX == sheet.X));
        _top = CutOff(_trims.Top, sheet.Stock.MinWidth, tree.All().Any(node => node.Kind >= 0 && node.Y + node.SizeY == sheet.Y));
        var fine = sheet.TrimCost(_right, _top);
        foreach (var node in tree.All())
        {
            fine -= node.IsWaste ? sheet.Credit(node.SizeX, node.SizeY) * CostRules.Fine : 0;
            fine += node.Cuts * Cut(node);
        }

        var facing = Enumerable.Range(0, loads.Demand.Length).Sum(kind => (sheet.Blanks[kind]?.Facing ?? 0) * loads.Of(load, kind));
        return CutWay.Of(CostRules.Rounded(fine) + facing + loading, 0, Stops(tree));
    }

    private bool CutOff(Length trim, Length side, bool needed) => trim > Length.Zero && (needed || CostRules.TrimsAlways(sheet.Saw, side));

    private long Cut(PlateTree node) => node.Direction == CutDirection.Crosscut
        ? sheet.Cut(node.SizeY, !_top && node.Y + node.SizeY == sheet.Y ? _trims.Top : Length.Zero)
        : sheet.Cut(node.SizeX, !_right && node.X + node.SizeX == sheet.X ? _trims.Right : Length.Zero);

    private List<StopAt> Stops(PlateTree tree)
    {
        var (x, y) = (sheet.Stock.MinLength - _trims.Left, sheet.Stock.MinWidth - _trims.Bottom);
        var stops = new List<StopAt>();
        Trim(_trims.Left > Length.Zero, CutDirection.Crosscut, x);
        Trim(_right, CutDirection.Crosscut, x - _trims.Right);
        Trim(_trims.Bottom > Length.Zero, CutDirection.Rip, y);
        Trim(_top, CutDirection.Rip, y - _trims.Top);
        StopAt? now = null;
        for (PlateTree[] level = [tree]; level.Length > 0; level = [.. level.SelectMany(node => node.Children)])
        {
            var rows = level.Where(node => node.Children.Length > 0)
                .Select(node => new Queue<StopAt>(Measures(node).Select(measure => new StopAt(node.Direction, measure, 0)))).ToList();
            while (rows.RemoveAll(row => row.Count == 0) >= 0 && rows.Count > 0)
            {
                now = now is { } same && rows.Exists(row => row.Peek() == same)
                    ? same
                    : rows.Select(row => row.Peek()).OrderBy(stop => stop.Measure).ThenBy(stop => stop.Direction).First();
                stops.Add(now.Value);
                foreach (var row in rows)
                {
                    while (row.TryPeek(out var stop) && stop == now)
                    {
                        row.Dequeue();
                    }
                }
            }
        }

        return stops;

        void Trim(bool made, CutDirection direction, Length measure)
        {
            if (made)
            {
                stops.Add(new(direction, measure, 0));
            }
        }
    }

    /// <summary>What each cut of a row is measured to, in order.</summary>
    private List<Length> Measures(PlateTree node)
    {
        var (children, direction) = (node.Children, node.Direction);
        var last = children.Length - 1;
        var stays = Array.FindLastIndex(children, child => Size(child) >= sheet.Saw.ShortestHeld);
        stays = stays < 0 ? last : stays;
        var measures = new List<Length>();
        for (var at = 0; at < stays; at++)
        {
            var behind = End(children[last]) - Start(children[at + 1]);
            var free = children[at].IsWaste && (children.Skip(at + 1).Any(child => !child.IsWaste) || behind >= Size(children[at]));
            measures.Add(free ? End(node) - Start(children[at + 1]) : Size(children[at]));
        }

        if (node.HasTail)
        {
            measures.Add(End(children[last]) - Start(children[stays]));
        }

        for (var at = last; at > stays; at--)
        {
            measures.Add(children[at].IsWaste ? End(children[at - 1]) - Start(children[stays]) : Size(children[at]));
        }

        return measures;

        Length Size(PlateTree child) => End(child) - Start(child);

        Length Start(PlateTree child) => sheet.Long(child.Start(direction));

        // A raw edge that is not cut off stays on what lies beside it.
        Length End(PlateTree child)
        {
            var (whole, raw) = direction == CutDirection.Crosscut ? (sheet.X, _right ? Length.Zero : _trims.Right) : (sheet.Y, _top ? Length.Zero : _trims.Top);
            return sheet.Long(child.End(direction)) + (child.End(direction) == whole ? raw : Length.Zero);
        }
    }
}
