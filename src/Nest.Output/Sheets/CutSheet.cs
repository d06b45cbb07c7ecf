using Nest.Core.Cutting;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The cut sheet of a plan, page by page.</summary>
internal static class CutSheet
{
    // Sizes of the type on the first and the last page: the best first, and larger ones for what fits on one page.
    private static readonly double[] FrontScales = [1, 0.93, 0.86];
    private static readonly double[] FrontLarger = [1.2, 1.1];
    private static readonly double[] OffcutScales = [1];
    private static readonly double[] OffcutLarger = [1.25, 1.1];

    public static List<Scene> Pages(SheetContext context, WorkOrder work, Paper paper)
    {
        var pages = new SheetPages(context, paper);
        Shortest(FrontScales, FrontLarger, (into, scale) => FrontPage.Draw(into, context, work, scale));
        var items = work.Items.ToArray();
        for (var at = 0; at < items.Length; at++)
        {
            LayoutSheet.Draw(pages, context, items[at], at + 1, items.Length);
        }

        Shortest(OffcutScales, OffcutLarger, (into, scale) => OffcutSheet.Draw(into, context, scale));
        return pages.Build();

        // Nobody wants to turn the page for the last two lines: the first choice that needs the fewest pages is taken.
        void Shortest(double[] choices, double[] larger, Action<SheetPages, double> draw)
        {
            var best = choices.Select(Trial).MinBy(trial => trial.Count)!;
            pages.Take(best.Count > 1 ? best : larger.Select(Trial).FirstOrDefault(trial => trial.Count == 1) ?? best);

            SheetPages Trial(double choice)
            {
                var trial = pages.Blank();
                draw(trial, choice);
                return trial;
            }
        }
    }
}
