using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Output;

/// <summary>Size of a stock piece as sheets and pages write it: <c>1000 × 500 × 12 mm</c>, <c>Ø 20 × 3000 mm</c>, bars with their section first.</summary>
public static class StockSize
{
    public static string Text(Stock stock, LengthFormat format) => stock.Form switch
    {
        Form.Plate => $"{format.Text(stock.Length, false)} × {format.Text(stock.Width, false)} × {format.Text(stock.Thickness)}",
        Form.RoundBar => $"Ø {format.Text(stock.Width, false)} × {format.Text(stock.Length)}",
        _ => $"{format.Text(stock.Width, false)} × {format.Text(stock.Thickness, false)} × {format.Text(stock.Length)}",
    };
}
