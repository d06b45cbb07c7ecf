using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Every line of cost, the total and the shares of the parts.</summary>
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

    /// <summary>Each part bears its pieces' share by area, its own facing, and all parts together bear the total.</summary>
    /// <remarks>A share may differ from the exact fraction by less than one unit of money per layout: that is the rounding. Terms of
    /// the orders, and pieces bought whole less their value, are shared by the listed price of the bought stock.</remarks>
    public static void PartCosts(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts, Int128 terms, Dictionary<int, long> settings, Dictionary<string, long> sizes)
    {
        var given = new Dictionary<string, PartCost>(StringComparer.Ordinal);
        foreach (var cost in facts.Plan.PartCosts)
        {
            if (!facts.Parts.ContainsKey(cost.PartId) || !given.TryAdd(cost.PartId, cost))
            {
                facts.Add("part-costs", $"cost of part {cost.PartId}", "the part is unknown or listed twice");
            }
        }

        var shares = new Dictionary<string, Share>(StringComparer.Ordinal);
        var common = (decimal)terms;
        foreach (var one in layouts)
        {
            var cost = one.Layout.Cost;
            if (one.BoughtWhole)
            {
                common += (cost.Metal.Units + cost.Saw.Units + cost.Facing.Units - cost.OffcutCredit.Units - cost.ScrapCredit.Units)
                    * (decimal)one.Layout.Count;
                continue;
            }

            AddShares(facts, one, shares, settings.GetValueOrDefault(one.Layout.Number));
        }

        foreach (var (part, cost) in sizes)
        {
            if (shares.TryGetValue(part, out var share))
            {
                share.Facing += cost;
            }
        }

        var rounding = AddCommon(common, shares, layouts.Count);

        foreach (var (part, share) in shares)
        {
            var cost = given.GetValueOrDefault(part);
            if (cost is null
                || cost.Pieces != share.Pieces
                || (share.FacingKnown && cost.Facing.Units != share.Facing)
                || Math.Abs(cost.Metal.Units - share.Metal) >= share.Layouts + rounding
                || Math.Abs(cost.Saw.Units - share.Saw) >= share.Layouts)
            {
                facts.Add("part-costs", $"cost of part {part}", cost is null
                    ? "is missing"
                    : $"pieces {cost.Pieces}, metal {cost.Metal.Amount}, sawing {cost.Saw.Amount}, facing {cost.Facing.Amount}; right are "
                        + $"{share.Pieces}, {share.Metal / Money.UnitsPerCurrency:0.0000}, {share.Saw / Money.UnitsPerCurrency:0.0000}, "
                        + $"{(decimal)share.Facing / Money.UnitsPerCurrency}");
            }
        }

        foreach (var cost in facts.Plan.PartCosts)
        {
            if (!shares.ContainsKey(cost.PartId) && (cost.Pieces != 0 || cost.Total != Money.Zero))
            {
                facts.Add("part-costs", $"cost of part {cost.PartId}", "bears a cost, but the plan cuts no piece of it");
            }
        }

        var sum = facts.Plan.PartCosts.Aggregate((Int128)0, (units, cost) => units + cost.Metal.Units + cost.Saw.Units + cost.Facing.Units);
        if (sum != facts.Plan.TotalCost.Units)
        {
            facts.Add("part-costs", "plan", $"the parts bear {(decimal)sum / Money.UnitsPerCurrency}, the total is {facts.Plan.TotalCost.Amount}");
        }
    }

    /// <returns>By how much a share of it may differ: one unit, and what the rounding of its weights makes.</returns>
    private static decimal AddCommon(decimal common, Dictionary<string, Share> shares, int layouts)
    {
        if (common == 0m)
        {
            return 0m;
        }

        var listed = shares.Values.Sum(share => share.Listed);
        var pieces = shares.Values.Sum(share => share.Pieces);
        foreach (var share in shares.Values)
        {
            share.Metal += common * (listed > 0m ? share.Listed / listed : (decimal)share.Pieces / pieces);
        }

        return 1m + (listed > 0m ? Math.Abs(common) * layouts / listed : 0m);
    }

    private static void AddShares(PlanFacts facts, LayoutFacts one, Dictionary<string, Share> shares, long settings)
    {
        var layout = one.Layout;
        var cost = layout.Cost;
        var whole = layout.Pieces.Aggregate((Int128)0, (area, piece) => area + piece.Area.Area.SquareNanometres);
        foreach (var pieces in layout.Pieces.GroupBy(piece => piece.PartId, StringComparer.Ordinal))
        {
            if (!shares.TryGetValue(pieces.Key, out var share))
            {
                shares.Add(pieces.Key, share = new Share());
            }

            var area = pieces.Aggregate((Int128)0, (sum, piece) => sum + piece.Area.Area.SquareNanometres);
            var fraction = (decimal)area / (decimal)whole;
            share.Layouts++;
            share.Pieces += (long)pieces.Count() * layout.Count;
            share.Metal += (cost.Metal.Units - cost.OffcutCredit.Units - cost.ScrapCredit.Units) * layout.Count * fraction;
            share.Saw += (((decimal)cost.Saw.Units * layout.Count) + settings) * fraction;
            share.Listed += one.Stock.RackMark is null ? cost.Metal.Units * layout.Count * fraction : 0m;
            var sizes = ExpectedBlanks.Of(facts.Job, facts.Parts[pieces.Key], one.Material, one.Stock, one.Saw);
            foreach (var piece in pieces)
            {
                var size = sizes.FirstOrDefault(size => size.SizeX == piece.Area.SizeX && size.SizeY == piece.Area.SizeY)
                    ?? sizes.FirstOrDefault(size => size.SizeX == piece.Area.SizeY && size.SizeY == piece.Area.SizeX);
                share.Facing += (size?.Facing.Units ?? 0) * layout.Count;
                share.FacingKnown &= size is not null;
            }
        }
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

    private sealed class Share
    {
        public int Layouts { get; set; }

        public long Pieces { get; set; }

        public decimal Metal { get; set; }

        public decimal Saw { get; set; }

        /// <summary>Of the listed price of bought stock.</summary>
        public decimal Listed { get; set; }

        public long Facing { get; set; }

        /// <summary>False when a piece does not fit its stock: another rule says so.</summary>
        public bool FacingKnown { get; set; } = true;
    }
}
