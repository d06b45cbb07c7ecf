using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>What the parts of one load are worth at most in the rectangles of a plate, from the partial loads that were listed in coarser units (<see cref="CoarsePlate"/>).</summary>
/// <remarks>A rectangle is, grown by a kerf, one of two lengths and two widths in coarse units, and a part is worth no more in it than in the best of these four. A part that was not listed there is in no layout
/// that is worth <see cref="Least"/>. O(1) a rectangle; as many numbers as there are partial loads.</remarks>
internal sealed class CoarseParts
{
    private const int Never = Grain.Never;

    private readonly PlateShape _coarse;
    private readonly Dictionary<ulong, int> _worths = [];
    private readonly bool[] _listed;

    /// <summary>By part, the rectangles that may hold it, with any raw edges.</summary>
    private readonly List<(int X, int Y, int Worth)>?[] _rectangles;
    private readonly Dictionary<(int Number, bool AlongX, int One, int Other), Line> _lines = [];

    /// <param name="shape">The plate in its own units, with no more pieces than the load has.</param>
    /// <param name="values">At which the partial loads were listed.</param>
    public CoarseParts(PlateShape shape, PlateShape coarse, LoadLabels labels, ImmutableArray<int> counts, int[] values)
    {
        _coarse = coarse;
        var steps = LoadShares.StepsOf(shape);
        var load = LoadShares.IndexOf(steps, counts.AsSpan());
        _listed = new bool[load + 1];
        _listed[0] = _listed[load] = true;
        _rectangles = new List<(int, int, int)>?[load + 1];
        foreach (var (cell, part, worth) in labels.PartsOf(counts))
        {
            var number = LoadShares.IndexOf(steps, part.AsSpan());
            _listed[number] = true;
            var own = _worths[KeyOf(cell.W, cell.H, cell.Raw, number)] = (int)(worth - ValueOf(part, values));
            (_rectangles[number] ??= []).Add((cell.W, cell.H, own));
        }

        Least = (int)Math.Max(Never, labels.Limit - ValueOf(counts, values));
    }

    /// <summary>Layouts of the load that are worth less beside its pieces are not told from none.</summary>
    public int Least { get; }

    /// <summary>Whether a part, by its number, is in some layout.</summary>
    public bool IsListed(int number) => _listed[number];

    /// <summary>What a part is worth at most in rectangles of one extent across an axis, by their extent along it.</summary>
    public Line Along(int number, bool alongX, int across)
    {
        var (one, other) = Extents(across, alongX ? _coarse.SizeY : _coarse.SizeX);
        var key = (number, alongX, one, other);
        if (!_lines.TryGetValue(key, out var line))
        {
            var own = new int[(alongX ? _coarse.SizeX : _coarse.SizeY) + 1];
            Array.Fill(own, Never);
            foreach (var (x, y, worth) in _rectangles[number] ?? [])
            {
                var (length, width) = alongX ? (x, y) : (y, x);
                own[length] = width == one || width == other ? Math.Max(own[length], worth) : own[length];
            }

            line = _lines[key] = new(this, own);
        }

        return line;
    }

    /// <inheritdoc cref="Along"/>
    internal sealed class Line(CoarseParts parts, int[] own)
    {
        /// <summary>The most of all.</summary>
        public int Best { get; } = own.Max();

        public int Most(int extent)
        {
            if (extent <= 0)
            {
                return Never;
            }

            var (one, other) = parts.Extents(extent, own.Length - 1);
            return Math.Max(own[one], own[other]);
        }
    }

    public int Most(Cell cell, int number)
    {
        var ((w, wide), (h, high)) = (Extents(cell.W, _coarse.SizeX), Extents(cell.H, _coarse.SizeY));
        var most = Of(w, h);
        most = wide > w ? Math.Max(most, Of(wide, h)) : most;
        most = high > h ? Math.Max(most, Of(w, high)) : most;
        return wide > w && high > h ? Math.Max(most, Of(wide, high)) : most;

        int Of(int x, int y) => _worths.GetValueOrDefault(KeyOf(x, y, cell.Raw, number), Never);
    }

    private (int Least, int Most) Extents(int extent, int size)
    {
        var grown = extent + _coarse.Fine!.Kerf;
        return (Math.Min(size, (grown / _coarse.Times) - _coarse.Kerf), Math.Min(size, ((grown + _coarse.Times - 1) / _coarse.Times) - _coarse.Kerf));
    }

    private static long ValueOf(ImmutableArray<int> counts, int[] values) => counts.Select((count, k) => (long)count * values[k]).Sum();

    private static ulong KeyOf(int w, int h, int raw, int number) => ((ulong)w << 44) | ((ulong)h << 24) | ((ulong)number << 2) | (uint)raw;
}
