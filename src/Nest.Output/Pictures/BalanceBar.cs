using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>Where the metal of a layout goes, as a bar: blanks, kept, kerf, waste, with shares and masses of one stock piece.</summary>
internal static class BalanceBar
{
    private const double Thick = 3.4;
    private const double LeastBeside = 45;

    /// <returns>Y below it.</returns>
    public static double Draw(SceneBuilder scene, SheetContext context, Layout layout, CutSequence? sequence, Box area, double top)
    {
        var texts = context.Texts;
        var stock = context.Plan.StockOf(layout);
        var mass = stock.PieceMass(context.Job.MaterialOf(stock.MaterialId));
        var whole = layout.Sheet.Area;
        var used = layout.Pieces.Aggregate(Area.Zero, (sum, piece) => sum + piece.Area.Area).ShareOf(whole);
        var kept = layout.Offcuts.Where(offcut => offcut.Keep).Aggregate(Area.Zero, (sum, offcut) => sum + offcut.Area.Area).ShareOf(whole);
        var kerf = (sequence?.Steps ?? []).Aggregate(Area.Zero, (sum, step) => sum + step.Kerf.Area).ShareOf(whole);
        (string Name, decimal Share, Tint Tint)[] parts =
        [
            (texts.BalanceUsed, used, Tint.Of(0xA9CDE9)), (texts.BalanceKept, kept, PartLook.KeepLines), (texts.BalanceKerf, kerf, PartLook.Kerf),
            (texts.BalanceWaste, Math.Max(0m, 1m - used - kept - kerf), Tint.Of(0xD8D8D8)),
        ];
        var words = string.Join("  ·  ", parts.Where(part => part.Share > 0.0005m)
            .Select(part => $"{part.Name} {context.Percent(part.Share * 100m)} % {context.MassOf(new Mass(mass.Kilograms * part.Share))}"));

        // Beside the words where there is room for both.
        var beside = area.Width - FontBook.Width(words, Face.Regular, Print.Least) - 3;
        var full = beside >= LeastBeside ? beside : area.Width;
        var x = area.X;
        foreach (var (_, share, tint) in parts)
        {
            var wide = full * (double)share;
            scene.Box(Layer.Key, new Box(x, top, wide, Thick), tint, new Stroke(PartLook.Ink, 0.15));
            x += wide;
        }

        if (beside < LeastBeside)
        {
            return scene.Paragraph(Layer.Key, words, area, top + Thick + 1.5, Print.Least) + 0.2;
        }

        scene.Text(Layer.Key, words, area.X + full + 3, top + (Thick / 2) + (FontBook.CapHeight * Print.Least / 2), Print.Least, area);
        return top + Thick + 1.5;
    }
}
