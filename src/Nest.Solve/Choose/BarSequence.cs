using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Which blanks of a bar come last, where so little is left that the vise holds the blank instead and the cut is made at a mark.</summary>
/// <remarks>Of the sizes that the vise can hold, the one with which the fewest settings are needed: a blank of its own size, cut at the mark, needs no stop. Of several the shortest. O(sizes · blanks).</remarks>
internal static class BarSequence
{
    /// <param name="sizes">Long ones first.</param>
    /// <param name="metal">What is there before the first cut.</param>
    /// <returns>As given where nothing is cut at a mark, or nothing can be held.</returns>
    public static List<(int Item, Length Size)> WithLast(List<(int Item, Length Size)> sizes, Length metal, Saw saw)
    {
        if (sizes.Aggregate(metal, (rest, piece) => rest - piece.Size - saw.Kerf) >= saw.ShortestHeld)
        {
            return sizes;
        }

        return sizes.Select(piece => piece.Size).Where(size => size >= saw.ShortestHeld && size > Length.Zero).Distinct()
            .Select(size => Last(sizes, size))
            .Select(order => (Order: order, Settings: SettingsOf(order.Select(piece => piece.Size), metal, saw)))
            .OrderBy(one => one.Settings ?? int.MaxValue).ThenBy(one => one.Order[^1].Size)
            .Select(one => one.Order).FirstOrDefault(sizes);
    }

    private static List<(int Item, Length Size)> Last(List<(int Item, Length Size)> sizes, Length size) =>
        [.. sizes.Where(piece => piece.Size != size), .. sizes.Where(piece => piece.Size == size)];

    /// <summary>Positions of the stop and marks; null: at some cut nothing can be held.</summary>
    /// <param name="sizes">In the order of the cuts.</param>
    public static int? SettingsOf(IEnumerable<Length> sizes, Length metal, Saw saw)
    {
        var settings = 0;
        Length? stop = null;
        foreach (var size in sizes)
        {
            metal = Length.Max(Length.Zero, metal - size - saw.Kerf);
            if (metal < saw.ShortestHeld)
            {
                if (size < saw.ShortestHeld)
                {
                    return null;
                }

                settings++;
            }
            else
            {
                settings += stop == size ? 0 : 1;
                stop = size;
            }
        }

        return settings;
    }
}
