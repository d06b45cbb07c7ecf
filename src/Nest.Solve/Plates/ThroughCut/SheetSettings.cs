namespace Nest.Solve.Plates.ThroughCut;

/// <summary>How often fence or stop is set for a sheet, as the search takes it.</summary>
/// <remarks>The order of cuts (<see cref="Core.Cutting.LevelOrder"/>) takes one setting on each level for each size that is cut to on it; where nothing is left over behind the children of a split, its largest is never
/// measured. What is carried from level to level, and where the clamp needs another child to stay, only the layout itself knows. O(nodes).</remarks>
internal static class SheetSettings
{
    /// <summary>Deeper levels are taken as one; more are on no sheet that a person would cut.</summary>
    private const int MostLevels = 64;

    private const int FewNodes = 512;

    public static int Of(ReadOnlySpan<SheetNode> nodes)
    {
        var slots = 2 * (int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)nodes.Length);
        Span<long> taken = slots <= 2 * FewNodes ? stackalloc long[slots] : new long[slots];
        taken.Clear();
        var count = 0;
        foreach (ref readonly var node in nodes)
        {
            if (node.Item == SheetNode.Split)
            {
                count += Of(nodes, node, taken);
            }
        }

        return count;
    }

    /// <summary>Sizes of a split that no other on its level has had.</summary>
    private static int Of(ReadOnlySpan<SheetNode> nodes, in SheetNode split, Span<long> taken)
    {
        var (remains, largest, count) = (-1, 0L, 0);
        for (var c = split.FirstChild; c >= 0; c = nodes[c].Next)
        {
            if (nodes[c].Item == SheetNode.Rest)
            {
                remains = c;
                break;
            }

            if (Size(nodes[c], split) > largest)
            {
                (largest, remains) = (Size(nodes[c], split), c);
            }
        }

        for (var c = split.FirstChild; c >= 0; c = nodes[c].Next)
        {
            if (c != remains && nodes[c].Item != SheetNode.Rest && IsNew((Size(nodes[c], split) * MostLevels) + Math.Min(split.Level, MostLevels - 1), taken))
            {
                count++;
            }
        }

        return count;
    }

    private static long Size(in SheetNode child, in SheetNode split) => split.Direction == CutSheet.Across ? child.Width : child.Height;

    private static bool IsNew(long key, Span<long> taken)
    {
        // Fibonacci hashing; the next free slot where it is taken.
        var at = (int)(unchecked((ulong)key * 0x9E3779B97F4A7C15UL) >> 33) & (taken.Length - 1);
        while (taken[at] != 0 && taken[at] != key)
        {
            at = (at + 1) & (taken.Length - 1);
        }

        var isNew = taken[at] == 0;
        taken[at] = key;
        return isNew;
    }
}
