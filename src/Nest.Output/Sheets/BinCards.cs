using Nest.Output.Fonts;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>A card for each bin of blanks, to cut apart: the part's number large, its name, size and count.</summary>
internal static class BinCards
{
    private const int Across = 2;
    private const double Tall = 49;

    public static void Draw(SheetPages pages, SheetContext context)
    {
        var parts = BlankSizes.Of(context).ToArray();
        var top = 0.0;
        for (var at = 0; at < parts.Length; at++)
        {
            if (at % Across == 0)
            {
                top = at == 0 || top + (2 * Tall) > pages.Body.Bottom ? pages.Start(context.Texts.BinCardsTitle) : top + Tall;
            }

            var wide = pages.Body.Width / Across;
            Card(pages.Scene, context, new(pages.Body.X + (at % Across * wide), top, wide, Tall), parts[at]);
        }
    }

    private static void Card(SceneBuilder scene, SheetContext context, Box card, (Core.Jobs.Part Part, IReadOnlyList<BlankSize> Sizes) entry)
    {
        var texts = context.Texts;
        var (part, sizes) = entry;
        scene.Box(Layer.Page, card, null, new Stroke(Tint.Of(0x888888), 0.2, 1.6));
        var inner = card.Shrink(3);
        var number = context.Number(part.Id);
        var size = Math.Min(22, 26 / FontBook.Width(number, Face.Bold, 1));
        var left = inner with { Width = 28 };
        scene.Text(Layer.Page, number, left.X, left.Y + (FontBook.CapHeight * 22), size, left, Face.Bold);
        var spare = HandOver.Spare(context, part.Id, sizes);
        var count = SheetContext.Fill(texts.Pieces, HandOver.Count(sizes, spare));
        scene.Paragraph(Layer.Page, count, left with { Y = left.Y + 23, Height = 12 }, left.Y + 23, 4.6, Face.Bold);
        var right = Box.FromEdges(left.Right + 1, inner.Y, inner.Right, inner.Bottom);
        var y = right.Y;
        Line(part.Id, 5.4, Face.Bold, 2);
        Line(part.MaterialId, 3.6, Face.Regular, 1);
        Line(SheetContext.Fill(texts.FinishedOf, BlankSizes.Finished(context, part)), 3.6, Face.Regular, 2);
        foreach (var one in sizes.Take(3))
        {
            Line($"{SheetContext.Fill(texts.Times, one.Count)} {one.Size}", 4, Face.Bold, 1);
        }

        Line($"{SheetContext.Fill(texts.Plan, context.Print)}  {context.Job.Name}", Print.Least, Face.Regular, 1);

        void Line(string text, double type, Face face, int most)
        {
            foreach (var line in FontBook.Wrap(text, face, type, right.Width).Take(most))
            {
                if (y + (type * 1.2) <= right.Bottom)
                {
                    scene.Text(Layer.Page, line, right.X, y + (FontBook.CapHeight * type), type, right, face);
                    y += type * 1.28;
                }
            }
        }
    }
}
