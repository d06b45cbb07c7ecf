namespace Nest.Solve.Exact;

/// <summary>How many different positions of the stop are needed at least, in one direction, for blanks of some sizes out of one plate.</summary>
/// <remarks>
/// Statement. A cut measures one of the two pieces that it leaves; the other is what the metal had, less that and a kerf. So each size that comes about is a position of the stop, or r − Σ i_m (m + kerf),
/// where r is the plate's own extent or a position, and i_m counts how often a position m was cut off before. Fewer positions than sizes need sizes that fall out so: an equation of whole numbers in which no i_m is
/// more than the layout has cuts. Where none holds, each size has a position of its own. Positions may be anything, also what is measured only to cut waste off.
/// One position: equations between every two sizes. Two: every three sizes, two equations solved exactly for the two positions and the third tried (rational arithmetic). With more sizes than that three are the answer.
/// O(sizes² · most²) and O(sizes³ · most⁶); lengths are nanometres.
/// </remarks>
internal static class StopPositions
{
    /// <summary>Cuts up to which two positions are looked at.</summary>
    private const int MostForTwo = 8;

    /// <summary>Cuts up to which one is.</summary>
    private const int MostForOne = 100;

    /// <summary>An equation for positions p and q, kerf added to each: P · p + Q · q = Sum.</summary>
    private readonly record struct Form(long P, long Q, long Sum);

    /// <param name="sizes">Different sizes of blanks.</param>
    /// <param name="extents">What the plate may measure there when the first cut is made.</param>
    /// <param name="most">No layout in question has more cuts.</param>
    /// <returns>0 to 3; a size that is the plate's own needs none.</returns>
    public static int Least(IEnumerable<long> sizes, IReadOnlyList<long> extents, long kerf, long most)
    {
        var own = sizes.Where(size => !extents.Contains(size)).Distinct().Order().ToList();
        if (own.Count < 2 || most > MostForOne)
        {
            return Math.Min(1, own.Count);
        }

        var one = own.All(a => own.All(b => a >= b || One(a, b, extents, kerf, (int)most)));
        if (one || own.Count == 2 || most > MostForTwo)
        {
            return one ? 1 : 2;
        }

        for (var a = 0; a < own.Count; a++)
        {
            for (var b = a + 1; b < own.Count; b++)
            {
                for (var c = b + 1; c < own.Count; c++)
                {
                    if (!Two([own[a], own[b], own[c]], extents, kerf, (int)most))
                    {
                        return 3;
                    }
                }
            }
        }

        return 2;
    }

    /// <summary>Whether two sizes may come about with one position.</summary>
    private static bool One(long a, long b, IReadOnlyList<long> extents, long kerf, int most)
    {
        foreach (var whole in extents)
        {
            for (var i = 1; i <= most; i++)
            {
                // One of them is measured, the other falls out.
                if (whole - (i * (a + kerf)) == b || whole - (i * (b + kerf)) == a)
                {
                    return true;
                }

                // Both fall out: (whole − a) ÷ i and (other − b) ÷ j are the same position with its kerf.
                foreach (var other in extents)
                {
                    for (var j = 1; j <= most; j++)
                    {
                        if ((Int128)(whole - a) * j == (Int128)(other - b) * i)
                        {
                            return true;
                        }
                    }
                }
            }
        }

        return false;
    }

    /// <summary>Whether three sizes may come about with two positions.</summary>
    private static bool Two(long[] sizes, IReadOnlyList<long> extents, long kerf, int most)
    {
        var forms = sizes.Select(size => Forms(size, extents, kerf, most)).ToArray();
        foreach (var first in forms[0])
        {
            foreach (var second in forms[1])
            {
                var determinant = (Int128)(first.P * second.Q) - (second.P * first.Q);
                if (determinant == 0)
                {
                    // The same equation twice leaves a position free for the third size.
                    if ((Int128)first.P * second.Sum == (Int128)second.P * first.Sum && (Int128)first.Q * second.Sum == (Int128)second.Q * first.Sum)
                    {
                        return true;
                    }

                    continue;
                }

                var p = ((Int128)first.Sum * second.Q) - ((Int128)second.Sum * first.Q);
                var q = ((Int128)second.Sum * first.P) - ((Int128)first.Sum * second.P);
                foreach (var third in forms[2])
                {
                    if ((third.P * p) + (third.Q * q) == third.Sum * determinant)
                    {
                        return true;
                    }
                }
            }
        }

        return false;
    }

    /// <summary>All ways in which a size may come about with positions p and q.</summary>
    private static List<Form> Forms(long size, IReadOnlyList<long> extents, long kerf, int most)
    {
        // It is a position itself.
        var forms = new List<Form> { new(1, 0, size + kerf), new(0, 1, size + kerf) };
        for (var i = 0; i <= most; i++)
        {
            if (i > 0)
            {
                // p − i (q + kerf) = size, and the other way round.
                forms.Add(new(1, -i, size + kerf));
                forms.Add(new(-i, 1, size + kerf));
            }

            for (var j = 0; j <= most - i; j++)
            {
                forms.AddRange(i + j == 0 ? [] : extents.Select(whole => new Form(i, j, whole - size)));
            }
        }

        return forms;
    }
}
