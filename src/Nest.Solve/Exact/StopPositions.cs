using Nest.Core.Blanks;

namespace Nest.Solve.Exact;

/// <summary>How many different positions of the stop are needed at least, in one direction, for blanks of some sizes out of one plate, and which so few can be.</summary>
/// <remarks>
/// Statement. A cut measures one of the two pieces that it leaves; the other is what the metal had, less that and a kerf. So each size that comes about is a position of the stop, or r − Σ i_m (m + kerf),
/// where r is the plate's own extent or a position, and i_m counts how often a position m was cut off before. Each size gives one such equation of whole numbers, in which Σ i_m is no more than the layout has
/// cuts; n positions serve where some choice of equations, one a size, has a solution. Positions may be anything, also what is measured only to cut waste off.
/// Method. Elimination in whole numbers, size by size; once the positions are known the other sizes are only tried. O(equations^min(sizes, n)), equations = O(most^n), cut off by <see cref="MostTries"/>;
/// lengths are in any whole units, as small as nanometres.
/// </remarks>
internal sealed class StopPositions
{
    /// <summary>Cuts up to which anything is looked at: beyond, almost any size falls out.</summary>
    private const int MostCuts = 100;

    /// <summary>Positions up to which sets are looked for.</summary>
    public const int Few = 2;

    /// <summary>Equations that are tried before no more is claimed.</summary>
    private const int MostTries = 300_000;

    /// <summary>The same of pairs of equations for two positions: some hundredths of a second, and about thirty cuts, with which some pair mostly serves.</summary>
    private const long MostPairs = 1_500_000;

    private readonly long[] _sizes;
    private readonly long _longest;
    private readonly long _kerf;
    private readonly List<long[]>[] _forms;
    private readonly long[][] _rows;
    private readonly int _number;
    private readonly bool _all;
    private readonly Dictionary<string, Set> _sets = new(StringComparer.Ordinal);
    private int _tries;

    /// <summary>Whether some solution leaves a position open.</summary>
    private bool _open;

    private StopPositions(long[] sizes, IReadOnlyList<long> extents, long kerf, int most, int number, bool all)
    {
        (_sizes, _longest, _kerf, _number, _all) = (sizes, extents.Max(), kerf, number, all);
        _forms = [.. sizes.Select(size => Forms(size, extents, kerf, most, number))];
        _rows = [.. sizes.Select(_ => new long[number + 1]).Take(number), new long[number + 1]];
    }

    private bool IsLong => _tries > MostTries;

    /// <summary>Positions as fractions of one denominator.</summary>
    internal readonly record struct Set(long[] Numerators, long Denominator);

    /// <param name="Least">So many positions at least.</param>
    /// <param name="Sets">The sets of so many that serve; null: they are not known, or endless.</param>
    internal readonly record struct Answer(int Least, IReadOnlyList<Set>? Sets);

    /// <param name="sizes">Sizes of blanks.</param>
    /// <param name="extents">What the plate may measure there when the first cut is made; a size that is the plate's own needs nothing.</param>
    /// <param name="most">No layout in question has more cuts.</param>
    /// <param name="all">Whether all sets are wanted; else one is enough to show that there is any.</param>
    public static Answer Of(IEnumerable<long> sizes, IReadOnlyList<long> extents, long kerf, long most, bool all)
    {
        var own = sizes.Where(size => !extents.Contains(size)).Distinct().Order().ToArray();
        if (own.Length == 0)
        {
            return new(0, [new([], 1)]);
        }

        for (var number = 1; number <= Few && most <= MostCuts; number++)
        {
            var forms = FormsOf(most, number, extents.Count);
            if (number == 2 && own.Length > number && forms * forms / 2 <= MostPairs)
            {
                var pairs = new Dictionary<string, Set>(StringComparer.Ordinal);
                new PositionPairs(own, extents, kerf, (int)most, (p, q, of) => Add(pairs, [p, q], of, kerf, extents.Max()), () => !all && pairs.Count > 0).Look();
                if (pairs.Count > 0)
                {
                    return new(number, all ? [.. pairs.Values] : null);
                }

                continue;
            }

            if (forms > MostTries)
            {
                return new(number, null);
            }

            var search = new StopPositions(own, extents, kerf, (int)most, number, all);
            search.Solve(0, 0);
            if (search.IsLong || search._open)
            {
                return new(number, null);
            }

            if (search._sets.Count > 0)
            {
                return new(number, [.. search._sets.Values]);
            }
        }

        return new(most > MostCuts ? 1 : Few + 1, null);
    }

    /// <summary>Positions for the blanks of a set in both directions, turned as it suits best.</summary>
    public static int LeastOf(IReadOnlyList<BlankFit> fits, IReadOnlyList<long> inX, IReadOnlyList<long> inY, long kerf, long most)
    {
        var turns = fits.Select(fit => fit.MayTurn && fit.SizeX != fit.SizeY).ToList();
        var least = int.MaxValue;
        for (var way = 0; way < 1 << fits.Count && least > 0; way++)
        {
            if (Enumerable.Range(0, fits.Count).Any(f => ((way >> f) & 1) == 1 && !turns[f]))
            {
                continue;
            }

            var sizes = fits.Select((fit, f) => ((way >> f) & 1) == 1 ? (X: fit.SizeY, Y: fit.SizeX) : (X: fit.SizeX, Y: fit.SizeY)).ToList();
            var x = Of(sizes.Select(size => size.X.Nanometres), inX, kerf, most, all: false).Least;
            least = x >= least ? least : Math.Min(least, x + Of(sizes.Select(size => size.Y.Nanometres), inY, kerf, most, all: false).Least);
        }

        return least;
    }

    /// <summary>Adds an equation for each size from this one on; the rows are in echelon form, their last column is the right side.</summary>
    private void Solve(int size, int rank)
    {
        if (rank == _number)
        {
            Keep(size);
            return;
        }

        if (size == _sizes.Length)
        {
            _open = true;
            return;
        }

        var row = _rows[rank];
        foreach (var form in _forms[size])
        {
            if (++_tries > MostTries || _open || (_sets.Count > 0 && !_all))
            {
                return;
            }

            Reduce(form, row, rank);
            var adds = row.AsSpan(0, _number).ContainsAnyExcept(0);
            if (adds || row[_number] == 0)
            {
                Solve(size + 1, adds ? rank + 1 : rank);
            }
        }
    }

    /// <summary>An equation without the positions that the rows before it lead with, its numbers as small as may be.</summary>
    private void Reduce(long[] form, long[] row, int rank)
    {
        form.CopyTo(row, 0);
        for (var r = 0; r < rank; r++)
        {
            var other = _rows[r];
            var lead = other.AsSpan().IndexOfAnyExcept(0);
            var (a, b) = (other[lead], row[lead]);
            if (b != 0)
            {
                var divisor = 0L;
                for (var c = 0; c <= _number; c++)
                {
                    row[c] = checked((row[c] * a) - (other[c] * b));
                    divisor = WholeNumbers.Divisor(divisor, row[c]);
                }

                for (var c = 0; divisor > 1 && c <= _number; c++)
                {
                    row[c] /= divisor;
                }
            }
        }
    }

    /// <summary>Takes in the positions that the rows fix where the sizes from this one on come about with them too.</summary>
    private void Keep(int size)
    {
        var (numerators, denominator) = (new long[_number], 1L);
        for (var r = _number - 1; r >= 0; r--)
        {
            // What is not known yet leads in this row: a x = right side − the others.
            var row = _rows[r];
            var lead = row.AsSpan().IndexOfAnyExcept(0);
            var right = row[_number] * denominator;
            for (var c = lead + 1; c < _number; c++)
            {
                right -= row[c] * numerators[c];
            }

            var a = row[lead];
            var divisor = WholeNumbers.Divisor(right, a);
            for (var c = 0; c < _number; c++)
            {
                numerators[c] *= a / divisor;
            }

            numerators[lead] = right / divisor;
            denominator *= a / divisor;
        }

        if (denominator < 0)
        {
            (numerators, denominator) = ([.. numerators.Select(n => -n)], -denominator);
        }

        for (var more = size; more < _sizes.Length; more++)
        {
            var holds = false;
            foreach (var form in _forms[more])
            {
                _tries++;
                holds = Holds(form, numerators, denominator);
                if (holds)
                {
                    break;
                }
            }

            if (!holds)
            {
                return;
            }
        }

        Add(_sets, numerators, denominator, _kerf, _longest);
    }

    /// <summary>Takes in a set without the kerf that it was counted with, if it is within the metal.</summary>
    private static void Add(Dictionary<string, Set> sets, long[] numerators, long denominator, long kerf, long longest)
    {
        var positions = numerators.Select(n => n - (kerf * denominator)).Order().ToArray();
        if (positions[0] > 0 && positions[^1] < longest * denominator)
        {
            var divisor = positions.Aggregate(denominator, WholeNumbers.Divisor);
            var set = new Set([.. positions.Select(n => n / divisor)], denominator / divisor);
            sets[$"{string.Join(' ', set.Numerators)}/{set.Denominator}"] = set;
        }
    }

    private bool Holds(long[] form, long[] numerators, long denominator)
    {
        var sum = -form[_number] * denominator;
        for (var c = 0; c < _number; c++)
        {
            sum += form[c] * numerators[c];
        }

        return sum == 0;
    }

    /// <summary>How many ways there are in which a size may come about.</summary>
    private static double FormsOf(long most, int number, int extents) =>
        Enumerable.Range(1, number).Aggregate(1.0, (product, i) => product * (most + i) / i) * (number + extents);

    /// <summary>All ways in which a size may come about with some positions, as equations for the positions with a kerf each.</summary>
    private static List<long[]> Forms(long size, IReadOnlyList<long> extents, long kerf, int most, int number)
    {
        var forms = new List<long[]>();
        Add(new long[number + 1], 0, most);
        return forms;

        void Add(long[] counts, int at, int left)
        {
            if (at < number)
            {
                for (var i = 0; i <= left; i++)
                {
                    var more = (long[])counts.Clone();
                    more[at] = i;
                    Add(more, at + 1, left - i);
                }

                return;
            }

            // p − Σ i (m + kerf) = size, with no i that is a position itself; the plate's own extent needs one at least.
            forms.AddRange(Enumerable.Range(0, number).Where(p => counts[p] == 0).Select(p => Form(p, size + kerf, -1)));
            if (left < most)
            {
                forms.AddRange(extents.Select(whole => Form(-1, whole - size, 1)));
            }

            long[] Form(int base_, long right, int sign) =>
                [.. Enumerable.Range(0, number).Select(m => m == base_ ? 1 : sign * counts[m]), right];
        }
    }
}
