namespace Nest.Data;

/// <summary>Finds names that a mistyped one may stand for.</summary>
internal static class Near
{
    /// <summary>"did you mean 'a' or 'b'?", or empty when nothing is near.</summary>
    public static string Hint(string name, IEnumerable<string> known)
    {
        var near = Names(name, known);
        return near.Count == 0 ? "" : $"did you mean {string.Join(" or ", near.Select(word => $"'{word}'"))}?";
    }

    /// <summary>At most three names, nearest first.</summary>
    public static IReadOnlyList<string> Names(string name, IEnumerable<string> known)
    {
        var wanted = Fold(name);
        var most = Math.Max(1, wanted.Length / 3);
        return [.. known.Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(word => (word, distance: Distance(wanted, Fold(word))))
            .Where(near => near.distance <= most || Contains(wanted, Fold(near.word)))
            .OrderBy(near => near.distance).ThenBy(near => near.word, StringComparer.Ordinal)
            .Take(3).Select(near => near.word)];
    }

    /// <summary>Whether a name is so near another one that it is a slip of the pen: a letter in seven, or two neighbours changed.</summary>
    public static bool IsSlip(string name, string known) => Fold(name) is { Length: >= 4 } wanted && Fold(known) is { Length: >= 4 } word
        && Distance(wanted, word) <= Math.Max(1, word.Length / 7);

    // 6061-T4 for 6061-T6 is near by distance; 5083 for 5083-H111 only by its beginning.
    private static bool Contains(string wanted, string word) =>
        wanted.Length >= 3 && word.Length >= 3
        && (word.StartsWith(wanted, StringComparison.Ordinal) || wanted.StartsWith(word, StringComparison.Ordinal));

    private static string Fold(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToUpperInvariant();

    /// <summary>Edit distance with neighbours swapped as one edit (optimal string alignment), O(a·b).</summary>
    private static int Distance(string a, string b)
    {
        if (Math.Abs(a.Length - b.Length) > 6 || a.Length > 60 || b.Length > 60)
        {
            return int.MaxValue;
        }

        var rows = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++)
        {
            for (var j = 0; j <= b.Length; j++)
            {
                if (i == 0 || j == 0)
                {
                    rows[i, j] = i + j;
                    continue;
                }

                var cost = a[i - 1] == b[j - 1] ? 0 : 1;
                var best = Math.Min(Math.Min(rows[i - 1, j] + 1, rows[i, j - 1] + 1), rows[i - 1, j - 1] + cost);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    best = Math.Min(best, rows[i - 2, j - 2] + 1);
                }

                rows[i, j] = best;
            }
        }

        return rows[a.Length, b.Length];
    }
}
