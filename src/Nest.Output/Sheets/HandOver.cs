using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>What the saw hands over: each part's blanks to count, where they come from, and what the part's note says. Parts with blanks of
/// more than one size are announced: they need a second set-up at the mill.</summary>
internal static class HandOver
{
    public static void Draw(SheetPages pages, SheetContext context)
    {
        var texts = context.Texts;
        var parts = BlankSizes.Of(context).ToArray();
        if (parts.Length == 0)
        {
            return;
        }

        var y = pages.Start(texts.HandOverTitle) + 1;
        var mixed = parts.Where(entry => entry.Sizes.Count > 1).ToArray();
        if (mixed.Length > 0)
        {
            var names = string.Join(", ", mixed.Select(entry => SheetContext.Fill(texts.PartNumber, context.Number(entry.Part.Id))));
            y = pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.MixedBlanks, names), pages.Body, y, 3.8, Face.Bold) + 1.5;
        }

        var rest = pages.Body.Width - 11 - 46 - 24 - 20;
        Column[] columns =
        [
            new("", 11, Align.Right, Face.Bold), new(texts.Part, 46), new(texts.FinishedSize, rest * 0.34), new(texts.BlankSizeHead, rest * 0.66), new(texts.NeededSpare, 24, Align.Right, Face.Bold),
            new(texts.Counted, 20),
        ];
        Table.Draw(pages, y, columns, [.. parts.Select(entry =>
        {
            var (part, sizes) = entry;
            var spare = Spare(context, part.Id, sizes);
            return new[]
            {
                context.Number(part.Id), $"{part.Id}, {part.MaterialId}" + (part.Note.Length == 0 ? "" : $" ({part.Note})"), BlankSizes.Finished(context, part),
                string.Join("; ", sizes.Select(size => $"{SheetContext.Fill(texts.Times, size.Count)} {size.Size}, {string.Join(", ", size.From)}")),
                Count(sizes, spare), "□ ____",
            };
        })], 3.4, 1, SheetContext.Fill(texts.Continued, texts.HandOverTitle));
    }

    /// <summary>What is made beyond the sets: spares that were asked for, and surplus.</summary>
    public static int Spare(SheetContext context, string part, IReadOnlyList<BlankSize> sizes) =>
        context.Part(part).Gang is not null ? 0 : Math.Max(0, sizes.Sum(size => size.Count) - (context.Part(part).Quantity * context.Job.Batch));

    /// <summary><c>24 + 2</c>: for the sets, and spare.</summary>
    public static string Count(IReadOnlyList<BlankSize> sizes, int spare)
    {
        var needed = SheetContext.Text(sizes.Sum(size => size.Count) - spare);
        return spare == 0 ? needed : $"{needed} + {SheetContext.Text(spare)}";
    }
}
