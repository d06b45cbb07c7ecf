using Nest.Core.Cutting;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The cut sheet of a plan, page by page.</summary>
internal static class CutSheet
{
    // Sizes of a plate's picture, and of the type on the front page: the best first.
    private static readonly double[] PictureShares = [1, 0.9, 0.8, 0.7, 0.6];
    private static readonly double[] TypeScales = [1, 0.93, 0.86];

    public static List<Scene> Pages(SheetContext context, WorkOrder work, Paper paper)
    {
        var pages = new SheetPages(context, paper);
        Shortest(TypeScales, (into, scale) => FrontPage.Draw(into, context, work, scale));
        foreach (var item in work.Items)
        {
            var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
            Shortest(PictureShares, (into, share) => new LayoutSheet(into, context, layout, item, share).Draw());
        }

        OffcutSheet.Draw(pages, context);
        return pages.Build();

        // Nobody wants to turn the page for the last two lines: drawn for trial, the first choice that needs the fewest pages is taken.
        void Shortest(double[] choices, Action<SheetPages, double> draw)
        {
            var (best, fewest) = (choices[0], int.MaxValue);
            foreach (var choice in choices)
            {
                var trial = new SheetPages(context, paper);
                draw(trial, choice);
                (best, fewest) = trial.Count < fewest ? (choice, trial.Count) : (best, fewest);
                if (fewest == 1)
                {
                    break;
                }
            }

            draw(pages, best);
        }
    }
}
