using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Very many pieces on plates: a k-th of them is laid out, those layouts are cut k times, and what is left over is laid out alone.</summary>
/// <remarks>
/// The plate kernels place piece by piece, in O(pieces · plates); with a million pieces their first plan alone would take minutes, whatever
/// the limit. Method: k = pieces ÷ <see cref="Most"/>, rounded up; ⌊quantity ÷ k⌋ of each item and ⌊limit ÷ k⌋ of each limited stock
/// are solved, the counts multiplied by k; the rest (fewer than k of each item) is solved with what stock is left, in the same way
/// where it is still many. Heuristic; what it loses is the rest of at most k − 1 pieces of each item. The bound of a k-th is none of
/// the whole, as it counts whole plates: none is given. Terminates: the rest is smaller, and where no item has k pieces nothing is split.
/// </remarks>
internal static class PlateMultiples
{
    /// <summary>Pieces that a kernel lays out in a few tenths of a second.</summary>
    public const int Most = 10_000;

    /// <summary>Part of the effort for the layouts that are cut k times; the rest has the other part.</summary>
    private const double MainShare = 0.8;

    public delegate GroupSolver.Answer Kernel(int[] quantities, int?[] limits, SolveLimits effort);

    /// <summary>Null where the pieces are few, none comes k times, or a k-th of the stock does not hold a k-th of them: then the kernel does it.</summary>
    /// <param name="solve">The kernel for what it is asked; called once for the k-th, once for the rest.</param>
    public static GroupSolver.Answer? Solve(ReadOnlySpan<int> quantities, ReadOnlySpan<int?> limits, SolveLimits effort, Kernel solve)
    {
        long total = 0;
        foreach (var quantity in quantities)
        {
            total += quantity;
        }

        if (total <= Most)
        {
            return null;
        }

        var k = (int)((total + Most - 1) / Most);
        var (main, rest) = (new int[quantities.Length], new int[quantities.Length]);
        for (var i = 0; i < main.Length; i++)
        {
            (main[i], rest[i]) = (quantities[i] / k, quantities[i] % k);
        }

        var fewer = new int?[limits.Length];
        for (var s = 0; s < fewer.Length; s++)
        {
            fewer[s] = limits[s] / k;
        }

        if (main.All(n => n == 0) || solve(main, fewer, Part(effort, MainShare)) is not { Columns.IsEmpty: false } found)
        {
            return null;
        }

        var columns = found.Columns.Select(entry => (entry.Column, Count: entry.Count * k)).ToList();
        if (rest.Any(n => n > 0))
        {
            var left = new int?[limits.Length];
            for (var s = 0; s < left.Length; s++)
            {
                left[s] = limits[s] - columns.Where(entry => entry.Column.Stock == s).Sum(entry => entry.Count);
            }

            if (solve(rest, left, Part(effort, 1 - MainShare)) is not { Columns.IsEmpty: false } last)
            {
                return null;
            }

            columns.AddRange(last.Columns);
        }

        return new(SolveStatus.BestFound, [.. columns], Bound.None);
    }

    private static SolveLimits Part(SolveLimits effort, double share) => effort with
    {
        Seconds = Math.Max(0.05, effort.Seconds * share), Work = effort.Work is { } work ? Math.Max(1, (long)(work * share)) : null,
    };
}
