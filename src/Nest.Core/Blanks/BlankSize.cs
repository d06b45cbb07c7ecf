using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>The size of a blank as it comes to the mill, however it lay in its stock: its three nominal measures, the longest first.</summary>
/// <param name="Round">From round bar: the two equal measures are a diameter.</param>
/// <param name="Longest">Largest measure.</param>
/// <param name="Middle">Second.</param>
/// <param name="Shortest">Least.</param>
public readonly record struct BlankSize(bool Round, Length Longest, Length Middle, Length Shortest)
{
    /// <summary>Of a blank so large in the stock's plan; on a bar the section is the stock's.</summary>
    public static BlankSize Of(Stock stock, Length x, Length y)
    {
        Span<Length> sizes = [x, stock.Form.IsBar() ? stock.Width : y, stock.Thickness];
        sizes.Sort();
        return new(stock.Form == Form.RoundBar, sizes[2], sizes[1], sizes[0]);
    }

    public static BlankSize Of(Stock stock, BlankFit fit) => Of(stock, fit.SizeX, fit.SizeY);

    public static BlankSize Of(Stock stock, PlacedPiece piece) => Of(stock, piece.Area.SizeX, piece.Area.SizeY);
}
