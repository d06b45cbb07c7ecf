using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Output;

/// <summary>Size of a stock piece as sheets and pages write it: <c>1000 × 500 × 12 mm</c>, <c>Ø 20 × 3000 mm</c>, bars with their section first.</summary>
public static class StockSize
{
    /// <summary>Finished size of a part: length × width × thickness, <c>Ø 20 × 85</c>, or a section with its length.</summary>
    public static string Finished(Part part, Func<Length, bool, string> text) => part switch
    {
        { Detail: { } detail } when part.Forms.Section() is { } form =>
            $"{SectionText.Of(form, part.Width, part.Thickness, detail, length => text(length, false))} × {text(part.Length, true)}",
        { Round: true } => $"Ø {text(part.Width, false)} × {text(part.Length, true)}",
        _ => $"{text(part.Length, false)} × {text(part.Width, false)} × {text(part.Thickness, true)}",
    };

    /// <summary>Size of a piece of stock, as it is ordered.</summary>
    public static string Text(Stock stock, LengthFormat format) => stock.Form switch
    {
        Form.Plate => $"{format.Text(stock.Length, false)} × {format.Text(stock.Width, false)} × {format.Text(stock.Thickness)}",
        _ => $"{SectionText.Of(stock, length => format.Text(length, false))} × {format.Text(stock.Length)}",
    };
}
