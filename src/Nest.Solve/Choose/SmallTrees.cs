using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>Many ways to cut one small load from a plate by through-cuts, for a choice with what settings cost.</summary>
/// <remarks>
/// The other methods look for the cheapest tree and count settings afterwards. Here rows of parallel cuts are tried with every way to part the load, every extent that is a side of a blank or a
/// sum of some, what is left behind the last, or before the first where damage ends, and one group up to the end; then the same across. The order within a row is <see cref="TreeOrder"/>'s. A family, not all trees: no bound comes of it.
/// Exponential in the pieces, cut off by the number of trees.
/// </remarks>
internal sealed class SmallTrees
{
    /// <summary>Pieces of a load that are few enough.</summary>
    public const int MostPieces = 5;

    private const int MostTrees = 3000;
    private const int MostSteps = 100_000;

    private readonly Component _component;
    private readonly int _stock;
    private readonly int[] _items;
    private readonly PlateStock _plate;
    private readonly PlateCutting _cutting;
    private readonly long _kerf;
    private readonly long[][] _extents;
    private int _steps;

    private SmallTrees(Component component, int stock, int[] items)
    {
        (_component, _stock, _items) = (component, stock, items);
        _plate = GroupSolver.PlateStockOf(component, stock, null);
        _cutting = GroupSolver.CuttingOf(component, component.Stocks[stock].Saw);
        _kerf = component.Units(component.Stocks[stock].Saw.Kerf);
        _extents = [.. Groups(true), .. Groups(false)];

        IEnumerable<long[]> Groups(bool along) => Enumerable.Range(0, 1 << items.Length).Select(group => Extents(group, along));
    }

    /// <summary>Layouts of the same pieces on the same plate.</summary>
    /// <param name="counts">Pieces of each of the component's blanks, all of which the plate serves; no more than <see cref="MostPieces"/>.</param>
    public static IEnumerable<Column> Of(Component component, int stock, ImmutableArray<int> counts)
    {
        int[] items = [.. counts.SelectMany((count, item) => Enumerable.Repeat(item, count))];
        int[] all = [.. Enumerable.Range(0, component.Items)];
        var trees = new SmallTrees(component, stock, items);
        return trees.Trees(0, 0, trees._plate.SizeX, trees._plate.SizeY, (1 << items.Length) - 1, null, 0, 0)
            .Select(tree => LayoutRules.Obeyed(component, stock, tree)).OfType<PlateNode>().Take(MostTrees)
            .Select(tree => LayoutBuilder.Plate(component, stock, all, new(stock, 1, [], tree)));
    }

    /// <param name="group">Bits of the pieces.</param>
    /// <param name="before">Direction of the cuts beside it, in which it is not divided again.</param>
    /// <param name="trimmed">How often nothing but waste was cut off; once in each direction is enough.</param>
    /// <param name="stage">Stages of cuts above it.</param>
    private IEnumerable<PlateNode> Trees(long x, long y, long sizeX, long sizeY, int group, CutDirection? before, int trimmed, int stage)
    {
        var area = new PlateRect(x, y, sizeX, sizeY);
        if (++_steps > MostSteps)
        {
            yield break;
        }

        if ((group & (group - 1)) == 0)
        {
            var item = _items[int.TrailingZeroCount(group)];
            var (width, height) = (_component.SizeX(_stock, item), _component.SizeY(_stock, item));
            var turned = (width, height) != (sizeX, sizeY);
            if (!turned || (_component.Fits[_stock, item]!.MayTurn && (height, width) == (sizeX, sizeY)))
            {
                yield return new(PlateNodeKind.Piece, area, default, [], item, turned);
                yield break;
            }
        }

        if (stage >= _cutting.Stages + (_cutting.TrimmingCut ? 1 : 0))
        {
            yield break;
        }

        foreach (var direction in (CutDirection[])[CutDirection.Crosscut, CutDirection.Rip])
        {
            var crosscut = direction == CutDirection.Crosscut;
            var (size, across) = crosscut ? (sizeX, sizeY) : (sizeY, sizeX);
            if (direction != before && across <= (_cutting.LargestCut ?? long.MaxValue) && (before is not null || _cutting.FirstCut is not { } first || first == direction))
            {
                foreach (var row in Starts().SelectMany(start => start == 0 ? Rows([], 0, group) : Rows([new(PlateNodeKind.Rest, Part(0, start - _kerf), default, [])], start, group)))
                {
                    if (row.Max(child => crosscut ? child.Area.SizeX : child.Area.SizeY) >= _cutting.ShortestHeld)
                    {
                        yield return new(PlateNodeKind.Split, area, direction, [.. row]);
                    }
                }
            }

            IEnumerable<ImmutableList<PlateNode>> Rows(ImmutableList<PlateNode> row, long at, int left)
            {
                if (left == 0)
                {
                    // Behind the last cut no more than its dust, or a rest.
                    var rest = size - at;
                    yield return rest <= 0 ? row : row.Add(new(PlateNodeKind.Rest, Part(at, rest), default, []));
                    yield break;
                }

                for (var some = left; some > 0; some = (some - 1) & left)
                {
                    if ((some == group && trimmed > 1) || !IsFirstOfEqual(some, left))
                    {
                        continue;
                    }

                    var ends = some == left && row.Count > 0 ? [size - at] : Array.Empty<long>();
                    foreach (var extent in _extents[(crosscut ? 0 : 1 << _items.Length) + some].Concat(ends).Distinct())
                    {
                        if (at + extent > size || extent >= size || extent <= 0)
                        {
                            continue;
                        }

                        var part = Part(at, extent);
                        foreach (var child in Trees(part.X, part.Y, part.SizeX, part.SizeY, some, direction, some == group ? trimmed + 1 : 0, stage + 1))
                        {
                            foreach (var whole in Rows(row.Add(child), at + extent + _kerf, left & ~some))
                            {
                                yield return whole;
                            }
                        }
                    }
                }
            }

            // At the near edge; round damage also where it ends, or up to the far edge.
            IEnumerable<long> Starts() => _plate.KeepOuts.Select(spot => crosscut ? spot.X + spot.SizeX - x : spot.Y + spot.SizeY - y)
                .Concat(_plate.KeepOuts.IsEmpty ? [] : _extents[(crosscut ? 0 : 1 << _items.Length) + group].Select(extent => size - extent))
                .Where(start => start > _kerf && start < size).Distinct().Prepend(0);

            PlateRect Part(long from, long extent) => crosscut ? new(x + from, y, extent, sizeY) : new(x, y + from, sizeX, extent);
        }
    }

    /// <summary>Of equal pieces those with the lowest bits are taken: the others would only say the same again.</summary>
    private bool IsFirstOfEqual(int some, int left)
    {
        for (var piece = 1; piece < _items.Length; piece++)
        {
            if ((some >> piece & 1) == 1 && _items[piece] == _items[piece - 1] && (left >> (piece - 1) & 1) == 1 && (some >> (piece - 1) & 1) == 0)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>The sides of a group's pieces in one direction, and the sums of some with kerfs.</summary>
    private long[] Extents(int group, bool along)
    {
        var sums = new HashSet<long> { 0 };
        for (var piece = 0; piece < _items.Length; piece++)
        {
            if ((group >> piece & 1) == 1)
            {
                var (x, y) = (_component.SizeX(_stock, _items[piece]), _component.SizeY(_stock, _items[piece]));
                long[] sides = _component.Fits[_stock, _items[piece]]!.MayTurn ? [x, y] : along ? [x] : [y];
                sums.UnionWith([.. sums.SelectMany(sum => sides.Select(side => sum == 0 ? side : sum + _kerf + side))]);
            }
        }

        return [.. sums.Where(sum => sum > 0).Order()];
    }
}
