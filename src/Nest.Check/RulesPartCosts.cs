using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>What each part bears of the cost.</summary>
internal static class RulesPartCosts
{
    /// <summary>Each part bears its pieces' share by area, its own facing, and all parts together bear the total.</summary>
    /// <remarks>A share may differ from the exact fraction by less than one unit of money per layout: that is the rounding. Terms of
    /// the orders, and pieces bought whole less their value, are shared by the listed price of the bought stock.</remarks>
    public static void Check(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts, Int128 terms, Dictionary<int, long> settings, Dictionary<string, long> sizes)
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

    private sealed class Share
    {
        public int Layouts { get; set; }

        public long Pieces { get; set; }

        public decimal Metal { get; set; }

        public decimal Saw { get; set; }

        /// <summary>What the part takes of the listed price of bought stock.</summary>
        public decimal Listed { get; set; }

        public long Facing { get; set; }

        /// <summary>False when a piece does not fit its stock: another rule says so.</summary>
        public bool FacingKnown { get; set; } = true;
    }
}
