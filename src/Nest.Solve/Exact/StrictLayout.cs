using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The best layout of one small load on a plate with damage, or under a limit on stages: what the tables do not see.</summary>
/// <remarks>
/// L(region, load, stage): the most that exactly these pieces, cut from this region of the plate, leave it worth. As in <see cref="LoadTable"/>, but a
/// region that damage lies in is known by its place, and a cut in a new direction is a stage more. Positions: the lemma of <see cref="CutPositions"/>
/// holds with one more kind of tight constraint: a side of a piece at an edge of the damage. So a cut leaves an extent of N on one of its sides, or lies
/// where an extent of N (or none) begins or ends at an edge of the damage.
/// Complexity: O(regions · loads · positions · shares); cut off by the number of regions, for loads of few pieces.
/// </remarks>
internal sealed class StrictLayout
{
    private const int Never = Grain.Never;
    private const int MostStates = 150_000;
    private const long MostTries = 4_000_000;
    private const int MostPieces = 8;

    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly ImmutableArray<PlateRect> _damage;
    private readonly int? _stages;
    private readonly bool _trimming;
    private readonly int[][] _loads;
    private readonly (int A, int B)[][] _shares;
    private readonly int[] _pieces;
    private readonly bool[] _atX;
    private readonly bool[] _atY;
    private readonly Dictionary<State, int> _known = [];
    private long _tries;
    private int _stays;

    /// <summary>A region of the plate with what is to be cut from it.</summary>
    /// <param name="X">−1 where no damage lies in it: then its place does not matter.</param>
    /// <param name="Raw">The staying raw edges that it touches.</param>
    private readonly record struct State(int X, int Y, int W, int H, int Raw, int Load, int Stage, CutDirection? Before);

    private StrictLayout(PlateShape shape, ImmutableArray<PlateRect> damage, int? stages, bool trimming)
    {
        (_shape, _damage, _stages, _trimming) = (shape, damage, stages, trimming);
        _rules = new(shape);
        (_loads, _shares) = LoadShares.Of(shape);
        _pieces = [.. _loads.Select(load => load.Sum())];
        (_atX, _atY) = (AtDamage(true), AtDamage(false));
    }

    /// <summary>The best layout of the load; its tree is null where there is none at all.</summary>
    /// <param name="shape">The plate; its pieces are wanted as often as the load has them.</param>
    /// <param name="damage">Where no piece may lie, in units of the shape.</param>
    /// <returns>Null where the search would be long, or amounts are too large.</returns>
    public static (int Worth, PlateNode? Tree)? Of(PlateShape shape, ImmutableArray<PlateRect> damage, int? stages, bool trimming)
    {
        if (shape.Pieces.Sum(piece => piece.SizeX == 0 ? 0 : piece.Demand) > MostPieces || shape.Money > PlateShape.MoneyLimit)
        {
            return null;
        }

        var search = new StrictLayout(shape, damage, stages, trimming);
        var (best, bestStays) = (Never, 0);
        foreach (var stays in shape.Raw.Sets)
        {
            search._stays = stays;
            search._known.Clear();
            var worth = search.Worth(search.Root);
            if (search.IsLong)
            {
                return null;
            }

            if (worth > Never / 2 && worth - shape.Raw.Trims[stays] > best)
            {
                (best, bestStays) = (worth - shape.Raw.Trims[stays], stays);
            }
        }

        if (best <= Never / 2)
        {
            return (Never, null);
        }

        search._stays = bestStays;
        search._known.Clear();
        var root = search.Root;
        var tree = search.Node(0, 0, root, search.Worth(root));
        return search.IsLong ? null : (best, tree);
    }

    private bool IsLong => _known.Count > MostStates || _tries > MostTries;

    private State Root => StateOf(0, 0, _shape.SizeX, _shape.SizeY, _loads.Length - 1, 0, null);

    private State StateOf(int x, int y, int w, int h, int load, int stage, CutDirection? before)
    {
        var raw = _stays & ((x + w == _shape.SizeX ? 1 : 0) | (y + h == _shape.SizeY ? 2 : 0));
        var damaged = _damage.Any(spot => x < spot.X + spot.SizeX && spot.X < x + w && y < spot.Y + spot.SizeY && spot.Y < y + h);

        // A piece fits into a raw region only after a cut, whose place counts from the region's own corner.
        return new(damaged ? x : -1, damaged ? y : -1, w, h, raw, load, _stages is null ? 0 : stage, _stages is null ? null : before);
    }

    private int Worth(State at)
    {
        if (at.Load == 0)
        {
            return _shape.Worth(at.W, at.H);
        }

        if (at.W < _rules.LeastX || at.H < _rules.LeastY || IsLong)
        {
            return Never;
        }

        if (_known.TryGetValue(at, out var known))
        {
            return known;
        }

        var best = PieceOf(at, out _) is { } piece ? -_shape.Pieces[piece].Facing : Never;
        foreach (var (one, other, cost) in Cuts(at))
        {
            if (Worth(one) is var first and > Never / 2 && (other is null ? 0 : Worth(other.Value)) is var second and > Never / 2)
            {
                best = Math.Max(best, first + second - cost);
            }
        }

        _known[at] = best;
        return best;
    }

    /// <summary>The piece that the region is as it stands.</summary>
    private int? PieceOf(State at, out bool turned)
    {
        turned = false;
        for (var k = 0; at is { Raw: 0, X: < 0 } && _pieces[at.Load] == 1 && k < _shape.Pieces.Length; k++)
        {
            if (_loads[at.Load][k] == 1 && _rules.IsPiece(k, at.W, at.H, out turned))
            {
                return k;
            }
        }

        return null;
    }

    private IEnumerable<(State One, State? Other, int Cost)> Cuts(State at)
    {
        var isRoot = at.W == _shape.SizeX && at.H == _shape.SizeY;
        foreach (var direction in (CutDirection[])[CutDirection.Crosscut, CutDirection.Rip])
        {
            var crosscut = direction == CutDirection.Crosscut;
            var cost = crosscut ? _rules.Crosscut(at.H, at.Raw) : _rules.Rip(at.W, at.Raw);
            var stage = at.Stage + (direction == at.Before ? 0 : 1);
            if (cost < 0 || (isRoot && _shape.FirstCut is { } first && first != direction) || !IsAllowed(stage, at.Load))
            {
                continue;
            }

            var size = crosscut ? at.W : at.H;
            for (var extent = 1; extent < size; extent++)
            {
                var rest = size - _shape.Kerf - extent;
                if (Math.Max(extent, rest) < _shape.Held || (rest > 0 && !MayCut(at, crosscut, extent, rest)))
                {
                    continue;
                }

                var one = Part(at, crosscut, 0, extent, at.Load, stage, direction, rest <= 0);
                if (rest <= 0)
                {
                    _tries++;
                    yield return (one, null, cost);
                    continue;
                }

                foreach (var (a, b) in _shares[at.Load])
                {
                    _tries++;
                    yield return (
                        Part(at, crosscut, 0, extent, a, stage, direction, true), Part(at, crosscut, extent + _shape.Kerf, rest, b, stage, direction, false), cost);
                }
            }
        }
    }

    /// <summary>Stages are counted with every new direction; one trimming cut may free a single piece beyond the last.</summary>
    private bool IsAllowed(int stage, int load) =>
        _stages is not { } most || stage <= most || (_trimming && stage == most + 1 && _pieces[load] <= 1);

    private bool MayCut(State at, bool crosscut, int extent, int rest)
    {
        var (allowed, damaged) = crosscut ? (_rules.AtX, _atX) : (_rules.AtY, _atY);
        return allowed[extent] || allowed[rest] || (at.X >= 0 && damaged[(crosscut ? at.X : at.Y) + extent]);
    }

    /// <summary>A child of a region; only the last one touches the raw edge across the cut.</summary>
    private State Part(State at, bool crosscut, int from, int extent, int load, int stage, CutDirection direction, bool inner)
    {
        var (w, h) = crosscut ? (extent, at.H) : (at.W, extent);
        if (at.X >= 0)
        {
            return StateOf(at.X + (crosscut ? from : 0), at.Y + (crosscut ? 0 : from), w, h, load, stage, direction);
        }

        var raw = inner ? at.Raw & ~(crosscut ? 1 : 2) : at.Raw;
        return new(-1, -1, w, h, raw, load, _stages is null ? 0 : stage, _stages is null ? null : direction);
    }

    private PlateNode Node(int x, int y, State at, int worth)
    {
        var area = new PlateRect(x * _shape.Scale, y * _shape.Scale, at.W * _shape.Scale, at.H * _shape.Scale);
        if (at.Load == 0)
        {
            return new(PlateNodeKind.Rest, area, default, [], -1);
        }

        if (PieceOf(at, out var turned) is { } piece)
        {
            return new(PlateNodeKind.Piece, area, default, [], piece, turned);
        }

        foreach (var (one, other, cost) in Cuts(at))
        {
            var (first, second) = (Worth(one), other is null ? 0 : Worth(other.Value));
            if (first > Never / 2 && second > Never / 2 && first + second - cost == worth)
            {
                var crosscut = one.H == at.H;
                var children = ImmutableArray.CreateBuilder<PlateNode>();
                children.Add(Node(x, y, one, first));
                if (other is { } last)
                {
                    children.Add(Node(x + (crosscut ? one.W + _shape.Kerf : 0), y + (crosscut ? 0 : one.H + _shape.Kerf), last, second));
                }

                return new(PlateNodeKind.Split, area, crosscut ? CutDirection.Crosscut : CutDirection.Rip, children.ToImmutable());
            }
        }

        throw new InvalidOperationException("A layout does not hold the worth that it was asked for.");
    }

    /// <summary>Where a cut may begin, from the plate's corner on, because an extent of N, or none, begins or ends at an edge of the damage.</summary>
    private bool[] AtDamage(bool alongX)
    {
        var (allowed, size) = alongX ? (_rules.AtX, _shape.SizeX) : (_rules.AtY, _shape.SizeY);
        var at = new bool[size + 1];
        foreach (var spot in _damage)
        {
            var (low, high) = alongX ? (spot.X, spot.X + spot.SizeX) : (spot.Y, spot.Y + spot.SizeY);
            for (var extent = 0; extent <= size; extent++)
            {
                if (extent == 0 || allowed[extent])
                {
                    // A region begins behind the damage, and a cut ends it, or one that begins so far before the damage ends at it.
                    var kerf = extent == 0 ? 0 : _shape.Kerf;
                    Add(high + extent - (extent == 0 ? _shape.Kerf : 0));
                    Add(low - extent - kerf);
                }
            }
        }

        return at;

        void Add(long place)
        {
            if (place >= 0 && place <= size)
            {
                at[(int)place] = true;
            }
        }
    }
}
