using Nest.Core.Cutting;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The cut sheet of a plan, page by page: cautions and what to fetch, the layouts in the order of work, offcuts to label, blanks to hand
/// over, a card for each bin.</summary>
internal static class CutSheet
{
    public static List<Scene> Pages(SheetContext context, WorkOrder work, Paper paper)
    {
        var pages = new SheetPages(context, paper);
        FrontPage.Draw(pages, context, work);
        LayoutSheet.Draw(pages, context, [.. work.Items]);
        OffcutSheet.Draw(pages, context);
        HandOver.Draw(pages, context);
        BinCards.Draw(pages, context);
        return pages.Build();
    }
}
