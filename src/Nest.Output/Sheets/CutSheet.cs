using Nest.Core.Cutting;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The cut sheet of a plan, page by page.</summary>
internal static class CutSheet
{
    // Sizes of the type on the first and the last page: the best first.
    private static readonly double[] FrontScales = [1.1, 1, 0.93, 0.86];
    private static readonly double[] OffcutScales = [1.25, 1.1, 1];

    public static List<Scene> Pages(SheetContext context, WorkOrder work, Paper paper)
    {
        var pages = new SheetPages(context, paper);
        Shortest(FrontScales, (into, scale) => FrontPage.Draw(into, context, work, scale));
        var items = work.Items.ToArray();
        for (var at = 0; at < items.Length; at++)
        {
            LayoutSheet.Draw(pages, context, items[at], at + 1, items.Length);
        }

        Shortest(OffcutScales, (into, scale) => OffcutSheet.Draw(into, context, scale));
        return pages.Build();

        // Nobody wants to turn the page for the last two lines: the first choice that needs the fewest pages is taken.
        void Shortest(double[] choices, Action<SheetPages, double> draw)
        {
            SheetPages? best = null;
            foreach (var choice in choices)
            {
                var trial = pages.Blank();
                draw(trial, choice);
                best = best is null || trial.Count < best.Count ? trial : best;
                if (best.Count == 1)
                {
                    break;
                }
            }

            pages.Take(best!);
        }
    }
}
