namespace Nest.Solve.Bars;

/// <summary>Which bars' kept leftovers are counted together.</summary>
/// <remarks>
/// A leftover's value jumps where it becomes worth keeping, so a linear programme cheats: a tenth of a bar with a long leftover takes the
/// better rate for metal that no plan can keep in one piece. The number of bars with a kept leftover is whole in every plan; counted as
/// if it were one more stock it can be branched on and priced, which closes that gap. One count serves all stocks that the same pieces
/// come from at the same extra cost (one section); others get a count of their own.
/// </remarks>
internal static class KeepGroups
{
    public static (int[] GroupOf, long[] KeptCapacity, int Groups) Of(BarModel model)
    {
        var group = new int[model.Stocks];
        var capacity = new long[model.Stocks];
        var leads = new List<int>();
        long least = model.Types == 0 ? long.MaxValue : model.Weight.Min();
        for (int s = 0; s < model.Stocks; s++)
        {
            BarStock stock = model.Stock(s);
            LeftoverValue worth = stock.Leftover;
            capacity[s] = stock.Length < worth.KeepMinimum ? -1 : (stock.Length - worth.KeepMinimum) / model.Unit;
            group[s] = -1;
            if (worth.KeepNumerator <= worth.ScrapNumerator || worth.KeepMinimum <= 1 || capacity[s] < least)
            {
                continue;
            }

            int at = leads.FindIndex(other => model.Stock(other).Leftover.KeepMinimum == worth.KeepMinimum && SameSection(model, s, other));
            if (at < 0)
            {
                at = leads.Count;
                leads.Add(s);
            }

            group[s] = at;
        }

        return (group, capacity, leads.Count);
    }

    private static bool SameSection(BarModel model, int s, int other) => Enumerable.Range(0, model.Types).All(i =>
        model.PieceCost(s, i) == model.PieceCost(other, i) || model.Weight[i] > Math.Min(model.Capacity[s], model.Capacity[other]));
}
