using System.Globalization;
using System.Text;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Desk.Model;

/// <summary>A blank in its stock, to scale, in a box of 96 × 40 units: plates from above, bars from the side. Of stock that is far larger than the blank the corner is
/// drawn, its other edges torn, so that the blank can be seen.</summary>
/// <param name="Stock">Outline of the stock, as an SVG path.</param>
/// <param name="Whole">Whether all of the stock is drawn.</param>
public sealed record BlankDrawing(string Stock, bool Whole, string Width, string Height)
{
    private const double Wide = 96;
    private const double High = 40;

    /// <summary>Share of the box that the blank has at least, in the direction in which it fills more of it.</summary>
    private const double Share = 0.4;

    /// <summary>Smaller than this nothing is seen.</summary>
    private const double Least = 2;

    private const double Tooth = 4;

    public static BlankDrawing Of(Stock stock, BlankFit fit)
    {
        var bar = stock.Form.IsBar();
        var (x, y) = ((double)stock.Length.ToMillimetres(), (double)(bar ? stock.Thickness : stock.Width).ToMillimetres());
        var (wide, high) = ((double)fit.SizeX.ToMillimetres(), bar ? y : (double)fit.SizeY.ToMillimetres());
        var scale = Math.Max(Math.Min(Wide / x, High / y), Math.Min(Share * Wide / wide, Share * High / high));
        return new(
            Outline(x * scale, Math.Max(Least, y * scale)), x * scale <= Wide && y * scale <= High, N(Math.Max(Least, wide * scale)), N(Math.Max(Least, high * scale)));
    }

    private static string Outline(double x, double y)
    {
        var (right, down) = (Math.Min(x, Wide), Math.Min(y, High));
        var path = new StringBuilder("M0 0H").Append(N(right));
        for (var at = 0.0; x > Wide && at < down; at += Tooth)
        {
            path.Append('L').Append(N(right - (Tooth / 2))).Append(' ').Append(N(Math.Min(down, at + (Tooth / 2)))).Append('L').Append(N(right)).Append(' ').Append(N(Math.Min(down, at + Tooth)));
        }

        path.Append('L').Append(N(right)).Append(' ').Append(N(down));
        for (var at = right; y > High && at > 0; at -= Tooth)
        {
            path.Append('L').Append(N(Math.Max(0, at - (Tooth / 2)))).Append(' ').Append(N(down - (Tooth / 2))).Append('L').Append(N(Math.Max(0, at - Tooth))).Append(' ').Append(N(down));
        }

        return path.Append("L0 ").Append(N(down)).Append('Z').ToString();
    }

    private static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
