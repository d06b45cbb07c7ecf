using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>The picture of one layout on a page of its own that prints on A4 and on Letter, with a title block; further pages for the
/// break-down of a plate, and where small pieces or a long key need them.</summary>
internal static class LayoutPicture
{
    // Fits both papers, lying, with a margin of 7 mm and more.
    private const double Width = 264;
    private const double Height = 192;
    private const double Margin = 3;

    public static List<Scene> Pages(SheetContext context, Layout layout, CutSequence? sequence)
    {
        var stock = context.Plan.StockOf(layout);
        var entries = KeyList.Entries(context, layout);
        var main = New(layout, 0);
        var foot = Math.Max(TitleBlock.Height, Math.Min(KeyList.HeightFor(context, entries, KeyWidth), 44) + 12);
        var body = Box.FromEdges(Margin, Margin, Width - Margin, Height - Margin - foot - 2);
        var unlabelled = new List<int>();
        double below;
        double scale;
        if (stock.Form.IsBar())
        {
            var picture = new BarPicture(context, main, layout, sequence);
            var (height, rows) = picture.Measure(body.Width, body.Height);
            picture.Draw(body, rows);
            below = Math.Min(body.Y + height + 3, body.Bottom + 2);
            scale = picture.Scale(body.Width, rows);
        }
        else
        {
            var result = new PlatePicture(context, main, layout, sequence).Draw(body);
            unlabelled.AddRange(result.Unlabelled);
            Details.Frames(main, context, result.View, Details.Windows(context, layout, unlabelled, Whole));
            below = body.Bottom + 2;
            scale = result.View.Scale;
        }

        TitleBlock.Draw(main, context, layout, new(Width - Margin - TitleBlock.Width, below, TitleBlock.Width, TitleBlock.Height), scale, null);
        var key = new Box(Margin, below, KeyWidth, foot);
        var y = BalanceBar.Draw(main, context, layout, sequence, key, below);
        var drawn = KeyList.Draw(main, context, entries, Box.FromEdges(key.X, y, key.Right, below + foot));
        var scenes = new List<SceneBuilder> { main };
        while (drawn < entries.Count)
        {
            var more = New(layout, scenes.Count);
            Block(more, null, context.Texts.KeyTitle);
            drawn += KeyList.Draw(more, context, entries[drawn..], Whole);
            scenes.Add(more);
        }

        if (!stock.Form.IsBar() && sequence is { Steps.Length: > 0 })
        {
            var stages = BreakDown.Stages(sequence);
            var crowded = BreakDown.IsCrowded(stages);
            for (var at = 0; at < (crowded ? stages.Count : 1); at++)
            {
                var steps = New(layout, scenes.Count);
                Block(steps, null, context.Texts.BreakDownTitle);
                scenes.Add(steps);
                if (crowded)
                {
                    BreakDown.Stage(steps, context, layout, stages[at], at + 1, Whole);
                }
                else
                {
                    BreakDown.Draw(steps, context, layout, stages, Whole);
                }
            }
        }

        foreach (var (window, at) in Details.Windows(context, layout, unlabelled, Whole).Select((window, at) => (window, at)))
        {
            var detail = New(layout, scenes.Count);
            var shown = new PlatePicture(context, detail, layout, sequence).Draw(Whole, window);
            Block(detail, shown.View.Scale, SheetContext.Fill(context.Texts.DetailTitle, at + 1));
            scenes.Add(detail);
        }

        // The picture of a bar ends below its key: two thirds of a page would be blank.
        var built = scenes.Select(scene => scene.Build()).ToArray();
        built[0] = built[0] with { Height = Math.Min(Height, below + foot + Margin) };
        return [.. built];

        void Block(SceneBuilder scene, double? to, string addition) =>
            TitleBlock.Draw(scene, context, layout, new(Width - Margin - TitleBlock.Width, Height - Margin - TitleBlock.Height, TitleBlock.Width, TitleBlock.Height), to, addition);
    }

    private static double KeyWidth => Width - (2 * Margin) - TitleBlock.Width - 4;

    // Room on a further page, above its title block.
    private static Box Whole => Box.FromEdges(Margin, Margin, Width - Margin, Height - Margin - TitleBlock.Height - 2);

    private static SceneBuilder New(Layout layout, int index) =>
        new(index == 0 ? $"layout-{layout.Number:000}" : $"layout-{layout.Number:000}-{index + 1}", Width, Height);
}
