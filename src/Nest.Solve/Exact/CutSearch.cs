using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The best layout of a load on a plate, rectangle by rectangle from the plate down, as far as a layout is worth what is needed.</summary>
/// <remarks>
/// S(w, h, load): the most that a rectangle from which exactly these pieces are cut is worth beside them, as in <see cref="LoadTable"/>. A rectangle that a bound shows to be worth too little is left, and what is known of others holds for
/// all later calls. O(rectangles that come up · loads · positions · shares), cut off by the number of tries.
/// </remarks>
internal sealed class CutSearch(CutRules rules, int[][] loads, (int A, int B)[][] shares, StopCuts cuts, LayoutBound bound)
{
    private const int Never = Grain.Never;

    /// <summary>Rectangles that are remembered.</summary>
    private const int MostKnown = 4_000_000;

    private readonly PlateShape _shape = rules.Shape;
    private readonly Dictionary<ulong, (int Worth, Way Cut)> _known = [];

    /// <summary>The first cuts of plates whose first cut has its direction, by raw edges and load.</summary>
    private readonly Dictionary<(int Raw, int Load), Way> _first = [];
    private readonly Dictionary<ulong, int> _most = [];
    private long _longest;

    /// <summary>A cut of a rectangle: its parts with their loads, the second without a width where it is dust; and the most that each is worth.</summary>
    private readonly record struct Way(Cell One, int A, Cell Other, int B, int Place, int Cost, int MostOne, int MostOther)
    {
        public int Most => MostOne + MostOther - Cost;
    }

    /// <summary>Component units per unit; 0: units are no whole ones.</summary>
    public long Scale => _shape.Scale;

    /// <summary>Ways to cut a rectangle and share its load that were looked at.</summary>
    public long Tries { get; private set; }

    /// <summary>Whether the tries did not suffice: then no answer means anything.</summary>
    public bool IsLong => Tries > _longest;

    /// <summary>May try so often again.</summary>
    public void Begin(long tries)
    {
        _longest = Tries + tries;
        if (_known.Count + _most.Count > MostKnown)
        {
            _known.Clear();
            _most.Clear();
        }
    }

    /// <summary>Worth of the plate with these raw edges on, where it is as much as is needed; else something less than needed that is no less than the worth.</summary>
    public int Worth(int raw, int load, int need)
    {
        var root = new Cell(_shape.SizeX, _shape.SizeY, raw);
        if (_shape.FirstCut is not { } first)
        {
            return Worth(root, load, 0, need);
        }

        if (bound.Most(root, load) is var most && most < need)
        {
            return most;
        }

        var best = Cut(root, load, 0, need, first, out var cut);
        _first[(raw, load)] = cut;
        return Math.Max(PieceOf(root, load, out _), best);
    }

    /// <summary>The layout that the last answer is worth.</summary>
    public PlateNode Tree(int raw, int load)
    {
        var root = new Cell(_shape.SizeX, _shape.SizeY, raw);
        return WorthTree.Placed(_shape, _shape.FirstCut is not null && PieceOf(root, load, out _) <= Never ? Split(root, _first[(raw, load)]) : Node(root, load, 0));
    }

    /// <param name="from">Place of the position that parted it.</param>
    private int Worth(Cell cell, int load, int from, int need)
    {
        if (load == 0)
        {
            return _shape.Worth(cell.W, cell.H);
        }

        var most = bound.Most(cell, load);
        if (most < need || IsLong)
        {
            return most < need ? most : need - 1;
        }

        var key = KeyOf(cell, load, from);
        if (_known.TryGetValue(key, out var known))
        {
            return known.Worth;
        }

        if (_most.TryGetValue(key, out var limit) && limit < need)
        {
            return limit;
        }

        var best = Math.Max(PieceOf(cell, load, out _), Cut(cell, load, from, need, null, out var cut));
        if (!IsLong && best >= need)
        {
            _known[key] = (best, cut);
        }
        else if (!IsLong)
        {
            _most[key] = best;
        }

        return best;
    }

    private static ulong KeyOf(Cell cell, int load, int from) => ((ulong)cell.W << 44) | ((ulong)cell.H << 24) | ((ulong)load << 5) | ((uint)from << 2) | (uint)cell.Raw;

    /// <summary>Worth of the piece that the rectangle is as it stands.</summary>
    private int PieceOf(Cell cell, int load, out (int Kind, bool Turned) piece)
    {
        piece = (-1, false);
        for (var k = 0; cell.Raw == 0 && bound.IsSingle(load) && k < _shape.Pieces.Length; k++)
        {
            if (loads[load][k] == 1 && rules.IsPiece(k, cell.W, cell.H, out var turned))
            {
                piece = (k, turned);
                return -_shape.Pieces[k].Facing;
            }
        }

        return Never;
    }

    /// <summary>Ways to cut a rectangle and share its load between the parts.</summary>
    private IEnumerable<Way> Ways(Cell cell, int load, int from, CutDirection? only, int need)
    {
        foreach (var (one, other, place, cost) in cuts.Of(cell, from, only))
        {
            foreach (var (a, b) in other.W > 0 ? shares[load] : [(load, 0)])
            {
                yield return new(one, a, other, b, place, cost, bound.Most(one, a), other.W > 0 ? bound.Most(other, b) : 0);
            }
        }

        foreach (var (one, a, terms, other, b, cost) in bound.Cuts(cell, load, cuts.IsFreeX && only != CutDirection.Rip, cuts.IsFreeY && only != CutDirection.Crosscut, only is not null, need))
        {
            yield return new(one, a, other, b, 0, cost, bound.Most(one, a, terms), other.W > 0 ? bound.Most(other, b) : 0);
        }
    }

    private int Cut(Cell cell, int load, int from, int need, CutDirection? only, out Way cut)
    {
        cut = default;

        // What looks best is tried first.
        var (best, beyond) = (Never, Never);
        List<Way>? ways = null;
        foreach (var way in Ways(cell, load, from, only, need))
        {
            Tries++;
            if (way.Most >= need)
            {
                (ways ??= []).Add(way);
            }

            beyond = Math.Max(beyond, Math.Min(way.Most, need - 1));
        }

        if (IsLong)
        {
            return need - 1;
        }

        foreach (var way in ways?.OrderByDescending(way => way.Most) ?? Enumerable.Empty<Way>())
        {
            var (one, a, other, b, place, cost, most, rest) = way;
            var (wanted, reached) = (Math.Max(need, best + 1) + cost, most + rest);
            if (reached >= wanted)
            {
                var first = Worth(one, a, place, wanted - rest);
                reached = first + rest >= wanted && other.W > 0 ? first + Worth(other, b, place, wanted - first) : first + rest;
                if (reached >= wanted)
                {
                    (best, cut) = (reached - cost, way);
                }
            }
        }

        // Ways that were not looked at leave less than needed too.
        return best >= need ? best : cuts.IsFreeX || cuts.IsFreeY || ways is not null ? need - 1 : beyond;
    }

    private PlateNode Node(Cell cell, int load, int from)
    {
        if (load == 0)
        {
            return WorthTree.Leaf(_shape, cell, -1, false);
        }

        return PieceOf(cell, load, out var piece) > Never
            ? WorthTree.Leaf(_shape, cell, piece.Kind, piece.Turned)
            : Split(cell, _known[KeyOf(cell, load, from)].Cut);
    }

    private PlateNode Split(Cell cell, Way cut) => WorthTree.Split(
        _shape, cell, cut.One, cut.Other, Node(cut.One, cut.A, cut.Place), cut.Other.W > 0 ? Node(cut.Other, cut.B, cut.Place) : null);
}
