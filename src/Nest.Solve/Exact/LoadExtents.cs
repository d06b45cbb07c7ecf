namespace Nest.Solve.Exact;

/// <summary>Extents along one axis that the pieces of each load of a plate fix: where a cut leaves just these pieces on one side, it has to be at one of them.</summary>
/// <remarks>
/// The lemma of <see cref="CutPositions"/> fixes the extent of one side of every cut by a row within that side: of its own pieces, kerfs, and terms that are no piece (the two sizes from which an offcut is kept, the least
/// that can be held, the longest cut). So many terms need so many leaves, or cuts that part nothing from a piece, beside the pieces: with n pieces and j terms a side takes n − 1 + j cuts at least. (A part that is as wide as can be
/// held, and that its own pieces do not fill, takes as many cuts as it has pieces.)
/// O(loads · (kinds + terms) · size).
/// </remarks>
internal sealed class LoadExtents
{
    private const byte None = byte.MaxValue;

    private readonly byte[][] _terms;
    private readonly int _kerf;

    /// <param name="loads">Of <see cref="LoadShares"/>.</param>
    public LoadExtents(PlateShape shape, bool alongX, int[][] loads)
    {
        var (size, kerf) = (alongX ? shape.SizeX : shape.SizeY, shape.Kerf);
        _kerf = kerf;
        int[] terms = [.. new[] { shape.KeepLong, shape.KeepShort, shape.Held, shape.Longest }.Where(t => t > 0 && t <= size).Distinct()];
        var steps = LoadShares.StepsOf(shape);
        var rows = new bool[loads.Length][];
        _terms = new byte[loads.Length][];
        Positions = new (int, int)[loads.Length][];
        for (var load = 0; load < loads.Length; load++)
        {
            var (row, some) = (rows[load] = new bool[size + 1], _terms[load] = new byte[size + 1]);
            Array.Fill(some, None);
            for (var k = 0; k < shape.Pieces.Length; k++)
            {
                if (loads[load][k] == 0)
                {
                    continue;
                }

                var part = load - steps[k];
                var piece = shape.Pieces[k];
                foreach (var extent in piece.MayTurn && piece.SizeX != piece.SizeY ? [piece.SizeX, piece.SizeY] : (int[])[alongX ? piece.SizeX : piece.SizeY])
                {
                    // A row of all that the load has; rows of fewer are rows of its parts.
                    for (var x = extent; x <= size; x++)
                    {
                        row[x] |= part == 0 ? x == extent : x - extent - kerf > 0 && rows[part][x - extent - kerf];
                    }
                }

                for (var x = 0; x <= size; x++)
                {
                    some[x] = _terms[part][x] == 0 ? (byte)0 : some[x];
                }
            }

            for (var x = 0; x <= size; x++)
            {
                some[x] = row[x] ? (byte)0 : some[x];
                foreach (var term in terms)
                {
                    if (x == term)
                    {
                        some[x] = Math.Min(some[x], (byte)1);
                    }
                    else if (load > 0 && x - term - kerf > 0 && some[x - term - kerf] < None - 1)
                    {
                        some[x] = Math.Min(some[x], (byte)(some[x - term - kerf] + 1));
                    }
                }
            }

            Positions[load] = Sorted(some);
        }
    }

    /// <summary>The extents that are fixed, those with the fewest terms first.</summary>
    private static (int At, int Terms)[] Sorted(byte[] terms)
    {
        var starts = new int[None + 1];
        for (var x = 1; x < terms.Length; x++)
        {
            if (terms[x] < None)
            {
                starts[terms[x] + 1]++;
            }
        }

        for (var t = 1; t <= None; t++)
        {
            starts[t] += starts[t - 1];
        }

        var sorted = new (int, int)[starts[None]];
        for (var x = 1; x < terms.Length; x++)
        {
            if (terms[x] < None)
            {
                sorted[starts[terms[x]]++] = (x, terms[x]);
            }
        }

        return sorted;
    }

    /// <summary>By load: the extents, with the fewest terms of each that are no piece, fewest first.</summary>
    public (int At, int Terms)[][] Positions { get; }

    /// <summary>Whether a row of pieces of the load, all or some, is so long.</summary>
    public bool IsRow(int load, int extent) => _terms[load][extent] == 0;

    /// <summary>Whether a row is shorter than this by no more than a kerf.</summary>
    public bool IsNearRow(int load, int extent)
    {
        for (var x = Math.Max(1, extent - _kerf); x < extent; x++)
        {
            if (_terms[load][x] == 0)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Whether rows of both loads may be of one length.</summary>
    public bool MayMatch(int one, int other)
    {
        foreach (var (at, terms) in Positions[one])
        {
            if (terms > 0)
            {
                return false;
            }

            if (IsRow(other, at))
            {
                return true;
            }
        }

        return false;
    }
}
