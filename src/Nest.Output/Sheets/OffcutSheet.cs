using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The last page: offcuts to label, with room to write the mark they get on the rack.</summary>
internal static class OffcutSheet
{
    /// <param name="scale">Of the type: 1, or more on a page with room.</param>
    public static void Draw(SheetPages pages, SheetContext context, double scale = 1)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        var y = pages.Start(texts.OffcutsTitle);
        var rows = new List<string[]>();
        foreach (var layout in plan.Layouts)
        {
            var stock = plan.StockOf(layout);
            var material = plan.Job.MaterialOf(stock.MaterialId);
            foreach (var (mark, offcut, _) in SheetContext.Kept(layout))
            {
                var mass = MassOf(stock, material, offcut.Area);
                var lift = mass > plan.Job.LiftLimit ? " ▲" : "";
                rows.Add(["□", mark, SheetContext.Fill(texts.Times, layout.Count), $"{context.FormOf(stock)} {stock.MaterialId}", SizeOf(context, stock, offcut.Area), context.MassOf(mass) + lift, context.Amount(offcut.Value), "……………"]);
            }
        }

        if (rows.Count == 0)
        {
            pages.Scene.Paragraph(Layer.Page, texts.OffcutsNone, pages.Body, y + 1, 3.6);
            return;
        }

        y = pages.Scene.Paragraph(Layer.Page, texts.OffcutsHint, pages.Body, y + 1, 3.4 * scale) + 2;
        // Material and size on one line where there is room; the rest is to write on.
        var type = 3.2 * scale;
        var rest = pages.Body.Width - 10 - 16 - 12 - 22 - 26;
        var wide = Math.Min(rest * 0.35, Longest(3, Face.Regular));
        var length = Math.Min(rest * 0.45, Longest(4, Face.Bold));
        Column[] columns =
        [
            new(texts.HeadDone, 10), new(texts.Mark, 16, Align.Left, Face.Bold), new(texts.Count, 12, Align.Right, Face.Bold), new(texts.Material, wide),
            new(texts.Size, length, Align.Left, Face.Bold), new(texts.MassEach, 22, Align.Right), new(texts.Value, 26, Align.Right),
            new(texts.RackMarkToWrite, rest - wide - length),
        ];
        Table.Draw(pages, y, columns, rows, type, 4 * (scale - 1) / 0.25, SheetContext.Fill(texts.Continued, texts.OffcutsTitle));

        double Longest(int column, Face face) => 2.4 + rows.Max(row => FontBook.Width(row[column], face, type));
    }

    /// <summary>Nominal mass of an offcut.</summary>
    public static Mass MassOf(Stock stock, Material material, Rect area) => stock.Form.IsBar()
        ? Mass.Of(stock.Section, area.SizeX, material.Density)
        : Mass.Of(area.Area, stock.Thickness, material.Density);

    public static string SizeOf(SheetContext context, Stock stock, Rect area) => stock.Form switch
    {
        Form.Plate => $"{context.Size(area.SizeX, area.SizeY)} × {context.Length(stock.Thickness)}",
        Form.RoundBar => $"Ø {context.Length(stock.Width, false)} × {context.Length(area.SizeX)}",
        _ => $"{context.Length(stock.Width, false)} × {context.Length(stock.Thickness, false)} × {context.Length(area.SizeX)}",
    };
}
