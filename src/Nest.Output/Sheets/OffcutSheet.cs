using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The last page: offcuts to label, with room to write the mark they get on the rack.</summary>
internal static class OffcutSheet
{
    public static void Draw(SheetPages pages, SheetContext context)
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

        y = pages.Scene.Paragraph(Layer.Page, texts.OffcutsHint, pages.Body, y + 1, 3.8) + 2;

        // Material and size on one line where there is room; the rest is to write on.
        const double Type = 3.8;
        var rest = pages.Body.Width - 8 - 18 - 14 - 22 - 26 - 28;
        var wide = Math.Min(rest * 0.42, Longest(3, Face.Regular));
        Column[] columns =
        [
            new("", 8), new(texts.Mark, 18, Align.Left, Face.Bold), new(texts.Count, 14, Align.Right, Face.Bold), new(texts.Material, wide),
            new(texts.Size, rest - wide, Align.Left, Face.Bold), new(texts.MassEach, 22, Align.Right), new(texts.Value, 26, Align.Right),
            new(texts.OffcutMeasured, 28),
        ];
        Table.Draw(pages, y, columns, rows, Type, 3, SheetContext.Fill(texts.Continued, texts.OffcutsTitle));

        double Longest(int column, Face face) => 2.4 + rows.Max(row => FontBook.Width(row[column], face, Type));
    }

    /// <summary>Nominal mass of an offcut.</summary>
    public static Mass MassOf(Stock stock, Material material, Rect area) => stock.Form.IsBar()
        ? Mass.Of(stock.Section, area.SizeX, material.Density)
        : Mass.Of(area.Area, stock.Thickness, material.Density);

    public static string SizeOf(SheetContext context, Stock stock, Rect area) => stock.Form switch
    {
        Form.Plate => $"{context.Size(area.SizeX, area.SizeY)} × {context.Length(stock.Thickness)}",
        _ => $"{context.SectionOf(stock)} × {context.Length(area.SizeX)}",
    };
}
