using Nest.Core.Cutting;
using Nest.Output.Scenes;

namespace Nest.Output.Sheets;

/// <summary>The cut sheet of a plan, page by page.</summary>
internal static class CutSheet
{
    public static List<Scene> Pages(SheetContext context, WorkOrder work, Paper paper)
    {
        var pages = new SheetPages(context, paper);
        FrontPage.Draw(pages, context, work);
        foreach (var item in work.Items)
        {
            new LayoutSheet(pages, context, context.Plan.Layouts.First(layout => layout.Number == item.Layout), item).Draw();
        }

        OffcutSheet.Draw(pages, context);
        return pages.Build();
    }
}
