using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Every line of cost and the total; the shares of the parts are in <see cref="RulesPartCosts"/>.</summary>
internal static class RulesMoney
{
    /// <summary>The five lines of one layout's cost.</summary>
    /// <param name="facing">Σ of the pieces' facing; null: unknown because a piece does not fit.</param>
    public static void Layout(PlanFacts facts, LayoutFacts one, Money? facing)
    {
        var cost = one.Layout.Cost;
        var right = Right(one, facing ?? cost.Facing);
        Line("cost-metal", "metal", cost.Metal, right.Metal);
        Line("cost-saw", "sawing", cost.Saw, right.Saw);
        Line("cost-facing", "facing", cost.Facing, right.Facing);
        Line("cost-offcuts", "credit for offcuts", cost.OffcutCredit, right.OffcutCredit);
        Line("cost-scrap", "scrap value", cost.ScrapCredit, right.ScrapCredit);

        void Line(string rule, string name, Money given, Money right)
        {
            if (given != right)
            {
                facts.Add(rule, one.Name, $"{name} is given as {given.Amount}, it is {right.Amount}");
            }
        }
    }

    /// <summary>What one stock piece cut so costs.</summary>
    /// <param name="facing">Σ of the pieces' facing.</param>
    public static LayoutCost Right(LayoutFacts one, Money facing) =>
        new(one.Stock.PiecePrice, Sawing(one), facing, Money.FromUnits(one.Layout.Offcuts.Sum(offcut => offcut.Value.Units)), ScrapCredit(one));

    /// <summary>What the settings of each layout cost, less the one that the layout before it leaves standing; by layout number.</summary>
    public static Dictionary<int, long> Settings(PlanFacts facts, IEnumerable<LayoutFacts> layouts)
    {
        var costs = new Dictionary<int, long>();
        var standing = new Dictionary<string, Stop>(StringComparer.Ordinal);
        foreach (var one in layouts.OrderBy(one => one.Layout.Number))
        {
            var (count, first, last) = new ExpectedCuts(one).Settings(facts.Job.Unit);
            if (first is { } needed && standing.TryGetValue(one.Saw.Id, out var found) && found == needed)
            {
                count--;
            }

            if (last is { } left)
            {
                standing[one.Saw.Id] = left;
            }

            costs[one.Layout.Number] = Amounts.Nearest(one.Saw.SettingMinutes * one.Saw.HourlyRate / 60m).Units * count;
        }

        return costs;
    }

    /// <summary>Total = Σ count × layout + terms of the orders + settings + further sizes.</summary>
    /// <param name="terms">What the orders cost beyond listed prices, fuss with lines and suppliers included.</param>
    /// <param name="settings">What all settings cost.</param>
    /// <param name="sizes">What further sizes of blanks cost.</param>
    /// <param name="layouts">Without their free spares.</param>
    public static void Total(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts, Int128 terms, Int128 settings, Int128 sizes)
    {
        var total = Sum(layouts, terms, settings, sizes);
        if (total != facts.Plan.TotalCost.Units)
        {
            facts.Add("total-cost", "plan",
                $"the total is given as {facts.Plan.TotalCost.Amount}, layouts, settings, orders and further sizes add up to {(decimal)total / Money.UnitsPerCurrency}");
        }
    }

    /// <summary>What these layouts cost with terms, settings and further sizes.</summary>
    public static Int128 Sum(IReadOnlyList<LayoutFacts> layouts, Int128 terms, Int128 settings, Int128 sizes)
    {
        var total = terms + settings + sizes;
        foreach (var layout in layouts.Select(one => one.Layout))
        {
            var cost = layout.Cost;
            var one = (Int128)cost.Metal.Units + cost.Saw.Units + cost.Facing.Units - cost.OffcutCredit.Units - cost.ScrapCredit.Units;
            total += one * layout.Count;
        }

        return total;
    }

    /// <summary>What further sizes of a part's blanks cost at the mill, by part.</summary>
    public static Dictionary<string, long> FurtherSizes(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts)
    {
        var job = facts.Job;
        var price = Amounts.Nearest(job.Fuss.FurtherSizeMinutes * job.Mill.HourlyRate / 60m).Units;
        var sizes = layouts.SelectMany(one => one.Layout.Pieces.Select(piece => (piece.PartId, Size: Measures(one, piece)))).Distinct();
        return sizes.GroupBy(entry => entry.PartId, StringComparer.Ordinal).ToDictionary(group => group.Key, group => price * (group.Count() - 1), StringComparer.Ordinal);
    }

    /// <summary>A blank's nominal measures, whichever way it lay: two blanks with the same are one size.</summary>
    internal static string Measures(LayoutFacts one, PlacedPiece piece)
    {
        var across = one.Bar ? one.Stock.Width : piece.Area.SizeY;
        var all = new[] { piece.Area.SizeX.Nanometres, across.Nanometres, one.Stock.Thickness.Nanometres };
        return $"{(one.Stock.Form == Core.Jobs.Form.RoundBar ? "round" : "flat")} {string.Join(' ', all.Order())}";
    }

    private static Money Sawing(LayoutFacts one)
    {
        // Fetched, loaded and labelled once, where anything is cut from it.
        var load = one.Layout.Pieces.IsEmpty ? Money.Zero : Amounts.Nearest(one.Saw.LoadMinutes * one.Saw.HourlyRate / 60m);
        return load + Cutting(one);
    }

    private static Money Cutting(LayoutFacts one)
    {
        var layout = one.Layout;
        if (one.Cutter)
        {
            var outline = layout.Pieces.Aggregate(Length.Zero, (sum, piece) =>
                sum + piece.Area.SizeX + piece.Area.SizeX + piece.Area.SizeY + piece.Area.SizeY);
            return Worth.Sawing(one.Saw, one.Material, layout.Pieces.Length, outline * one.Stock.Thickness);
        }

        if (one.Bar)
        {
            var section = ExpectedBlanks.Whole(one.Stock);
            var crosscuts = layout.Pieces.Length + (new ExpectedCuts(one).BarTrim ? 1 : 0);
            return layout.Pieces.SelectMany(piece => ExpectedEnds.Of(piece.Ends)).Aggregate(
                Worth.Sawing(one.Saw, one.Material, 1, section) * crosscuts,
                (sum, angle) => sum + Worth.Sawing(one.Saw, one.Material, 1, AngledCuts.Through(angle, section)));
        }

        var lengths = new ExpectedCuts(one).PlateCuts();
        var length = lengths.Aggregate(Length.Zero, (sum, cut) => sum + cut);
        return Worth.Sawing(one.Saw, one.Material, lengths.Count, length * one.Stock.Thickness);
    }

    private static Money ScrapCredit(LayoutFacts one)
    {
        var layout = one.Layout;
        var worth = Worth.Scrap(one.Stock, one.Material);
        if (one.Cutter)
        {
            var rest = layout.Sheet.SizeX * layout.Sheet.SizeY;
            rest = layout.Pieces.Aggregate(rest, (area, piece) => area - (piece.Area.SizeX * piece.Area.SizeY));
            rest = layout.Offcuts.Aggregate(rest, (area, offcut) => offcut.Keep ? area - (offcut.Area.SizeX * offcut.Area.SizeY) : area);
            return Worth.Share(worth, rest, one);
        }

        var trims = layout.Trims;
        var inner = layout.Sheet.SizeX - trims.Left - trims.Right;
        var credit = Trim(trims.Left, layout.Sheet.SizeY) + Trim(trims.Right, layout.Sheet.SizeY)
            + Trim(trims.Bottom, inner) + Trim(trims.Top, inner);
        foreach (var offcut in layout.Offcuts)
        {
            credit += offcut.Keep ? Money.Zero : Worth.Share(worth, offcut.Area.SizeX * offcut.Area.SizeY, one);
        }

        return credit;

        // What the trim's own cut does not turn into chips.
        Money Trim(Length trim, Length across) =>
            trim <= one.Saw.Kerf ? Money.Zero : Worth.Share(worth, (trim - one.Saw.Kerf) * across, one);
    }
}
