using Nest.Core.Costing;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>How many of the free spares that are wanted are cut, and what their time costs.</summary>
internal static class SparesText
{
    private const int Named = 6;

    /// <summary>One sentence or two; null where none are wanted.</summary>
    public static string? Of(SheetContext context)
    {
        var (plan, texts) = (context.Plan, context.Texts);
        var wanted = plan.Job.Parts.Sum(part => (long)part.FreeSpares);
        var laid = SparesOut.Count(plan.Layouts);
        if (wanted == 0)
        {
            return null;
        }

        if (laid.Count == 0)
        {
            return plan.Job.FreeSparesUpTo is { } limit ? SheetContext.Fill(texts.SparesNoneSoCheap, wanted, context.Amount(limit)) : SheetContext.Fill(texts.SparesNone, wanted);
        }

        var names = plan.Job.Parts.Where(part => laid.ContainsKey(part.Id)).Select(part => $"{SheetContext.Fill(texts.Times, laid[part.Id])} {part.Id}").ToList();
        var told = SheetContext.Fill(
            texts.SparesLaid, laid.Values.Sum(), wanted, string.Join(", ", names.Take(Named)) + (names.Count > Named ? " " + SheetContext.Fill(texts.AndMore, names.Count - Named) : ""));
        return plan.SpareCost == Money.Zero ? told : $"{told} {SheetContext.Fill(texts.SparesCost, context.Amount(plan.SpareCost))}";
    }
}
