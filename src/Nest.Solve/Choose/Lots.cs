namespace Nest.Solve.Choose;

/// <summary>Plates for very many pieces: planned for one lot of them and repeated.</summary>
/// <remarks>A kernel looks at every plate for every piece, so its first plan grows with the square of their number: 100 000 pieces took 40 s
/// whatever the limit was. A lot of thousands of pieces leaves next to nothing over on its last plate. Here: as many equal lots as
/// <see cref="MostPieces"/> asks for, each with its share of limited stock; what does not divide is planned in the same way with the stock that is
/// left. Guarantee: heuristic.</remarks>
internal static class Lots
{
    /// <summary>More pieces of plate than this are planned in lots.</summary>
    public const int MostPieces = 3000;

    /// <summary>Share of the time for the lots, before what does not divide.</summary>
    private const double FirstLots = 0.8;

    /// <summary>Share of that for the kernel where plates are made cheaper afterwards: of two jobs of 10 000 and 100 000 pieces, 10 s, the sums are 673 895, 653 271 and 650 076 with 0.25, 0.5 and 0.7.</summary>
    private const double KernelShare = 0.7;

    /// <summary>Solves a group for a demand; adds layouts with their counts.</summary>
    /// <param name="limits">How many of each stock may be used; null: any number.</param>
    /// <param name="anneal">Whether the plates of a lot are made cheaper by what they truly cost (<see cref="PlateAnnealing"/>).</param>
    /// <returns>Whether a plan was found.</returns>
    public static bool Solve(
        Component component, StockGroup group, int[] demand, int?[] limits, SolveLimits effort, List<(Column Column, int Count)> into, CancellationToken cancel, bool anneal = false)
    {
        var least = (int)((demand.Sum(count => (long)count) + MostPieces - 1) / MostPieces);
        // The number of lots that divides best, so that little is left to plan by itself.
        var lots = least <= 1 ? 1 : Enumerable.Range(least, least).MinBy(number => demand.Sum(count => (long)(count % number)));
        if (group.IsBar || lots <= 1 || demand.All(count => count < lots))
        {
            return Add(demand, limits, 1);
        }

        int[] lot = [.. demand.Select(count => count / lots)];
        int[] rest = [.. demand.Select(count => count % lots)];
        var from = into.Count;
        if (!Add(lot, [.. limits.Select(limit => limit / lots)], lots))
        {
            return false;
        }

        int?[] left = [.. limits.Select((limit, s) => limit - into.Skip(from).Where(one => one.Column.Stock == s).Sum(one => one.Count))];
        return rest.All(count => count == 0) || Solve(component, group, rest, left, effort with { Seconds = (anneal ? 1 - FirstLots : 1) * effort.Seconds }, into, cancel, anneal);

        bool Add(int[] some, int?[] most, int times)
        {
            var share = effort with { Seconds = (anneal ? KernelShare * (times > 1 ? FirstLots : 1) : 1) * effort.Seconds };
            var columns = GroupSolver.Solve(component, group, some, most, share, null, cancel).Columns;
            if (anneal && !columns.IsEmpty
                && PlateAnnealing.Run(component, group, new(columns, [.. some.Select(_ => 0)]), [.. most], share with { Seconds = share.Seconds / KernelShare * (1 - KernelShare) }, double.PositiveInfinity, cancel) is { IsEmpty: false } better
                && better.Sum(one => one.Column.Cost * one.Count) < columns.Sum(one => one.Column.Cost * one.Count))
            {
                columns = better;
            }

            into.AddRange(columns.Select(one => (one.Column, one.Count * times)));
            return !columns.IsEmpty;
        }
    }
}
