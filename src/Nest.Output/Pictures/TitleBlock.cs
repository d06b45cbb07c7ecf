using System.Globalization;
using Nest.Core.Plans;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The title block of a picture, as at the lower right of a drawing: layout and how many, metal, scale, job, plan, day, room for who
/// checked it.</summary>
internal static class TitleBlock
{
    public const double Width = 118;
    public const double Height = 25;

    /// <param name="scale">Millimetres on paper for one of metal; null: not to one scale.</param>
    /// <param name="addition">What this sheet of several shows; null: the layout itself.</param>
    public static void Draw(SceneBuilder scene, SheetContext context, Layout layout, Box block, double? scale, string? addition)
    {
        var texts = context.Texts;
        var stock = context.Plan.StockOf(layout);
        scene.Box(Layer.Page, block, null, new Stroke(PartLook.Ink, 0.5));
        var thin = new Stroke(PartLook.Ink, 0.2);
        double[] lines = [9, 17];
        foreach (var y in lines)
        {
            scene.Line(Layer.Page, block.X, block.Y + y, block.Right, block.Y + y, thin);
        }

        var row = block with { X = block.X + 1.5, Width = block.Width - 3, Height = 9 };

        // How many are cut alike stands on the main sheet.
        var count = addition is null ? context.CountOf(layout) : "";
        var pill = addition is null ? FontBook.Width(count, Face.Bold, 3.6) + 4 : 0;
        scene.Text(Layer.Page, SheetContext.Fill(texts.Layout, layout.Number) + (addition is null ? "" : " · " + addition), row.X, row.Y + 6.2, 5, row with { Width = row.Width - pill - 2 }, Face.Bold);
        if (addition is null)
        {
            var dark = new Box(row.Right - pill, row.Y + 1.4, pill, 6.2);
            scene.Box(Layer.Page, dark, Tint.Black);
            scene.Text(Layer.Page, count, dark.CenterX, dark.Y + 4.5, 3.6, dark, Face.Bold, Align.Center, Tint.White);
        }

        row = row with { Y = block.Y + 9, Height = 8 };
        var at = scale is { } value ? SheetContext.Fill(texts.ScaleOf, ScaleText.Of(context, value)) : "";
        var right = scene.Text(Layer.Page, at, row.Right, row.Y + 5.2, 3.4, row with { X = row.Right - 40, Width = 40 }, Face.Regular, Align.Right);
        scene.Text(Layer.Page, $"{context.FormOf(stock)} {stock.MaterialId}   {context.SizeOf(stock)}", row.X, row.Y + 5.2, 3.6, Box.FromEdges(row.X, row.Y, right.X - 2, row.Bottom), Face.Bold);
        row = row with { Y = block.Y + 17, Height = 8 };
        var plan = scene.Text(Layer.Page, SheetContext.Fill(texts.Plan, context.Print), row.Right - 26, row.Y + 5, Print.Least, Box.FromEdges(row.Right - 72, row.Y, row.Right - 26, row.Bottom), Face.Mono, Align.Right);
        var day = context.Options.Date is { } date ? date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "";
        scene.Text(Layer.Page, day, row.Right, row.Y + 5, Print.Least, Box.FromEdges(row.Right - 25, row.Y, row.Right, row.Bottom), Face.Mono, Align.Right);
        scene.Text(Layer.Page, context.Job.Name, row.X, row.Y + 5, Print.Least, Box.FromEdges(row.X, row.Y, plan.X - 2, row.Bottom));
    }
}
