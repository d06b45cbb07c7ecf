using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;

namespace Nest.Desk.Model;

/// <summary>A layout with its picture.</summary>
public sealed record LayoutCard(int Number, string Title, string Picture)
{
    /// <summary>The layouts that are cut here; what comes ready from the supplier has no cuts to show.</summary>
    public static List<LayoutCard> Of(string job, Plan plan)
    {
        var mark = Fingerprint.Of(plan);
        return [.. plan.Layouts.Where(layout => layout.SawId != Saw.SupplierId && layout.Pieces.Length > 0)
            .Select(layout => new LayoutCard(layout.Number, TitleOf(plan, layout), Pictures.AddressOf(job, mark, layout.Number)))];
    }

    public static string TitleOf(Plan plan, Layout layout)
    {
        var stock = plan.StockOf(layout);
        var size = StockSize.Text(stock, LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction));
        var spares = layout.Pieces.Count(piece => piece.Spare);
        var pieces = Number(layout.Pieces.Length - spares, "piece") + (spares == 0 ? "" : $" and {Number(spares, "free spare")}");
        return string.Create(CultureInfo.InvariantCulture, $"{layout.Number}: {layout.Count} × {stock.MaterialId} {(stock.IsLeftover ? $"leftover {stock.RackMark}, " : "")}{size}, {pieces} each");

        static string Number(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");
    }
}
