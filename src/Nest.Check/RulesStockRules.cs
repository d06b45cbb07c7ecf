using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>No piece comes from stock that the owner's rules exclude for it.</summary>
/// <remarks>Read once more from what the rules say, statement by statement; the planner's own test is not used.</remarks>
internal static class RulesStockRules
{
    public static void Kept(PlanFacts facts, LayoutFacts one)
    {
        foreach (var id in one.Layout.Pieces.Select(piece => piece.PartId).Distinct(StringComparer.Ordinal))
        {
            var part = facts.Parts[id];
            if (part.Certificate && !Certified(facts.Job, one.Stock))
            {
                facts.Add("no-certificate", one.Name, $"{part.Id} needs a certificate, and {one.Stock.Id} has no known heat and no supplier that gives one");
            }

            foreach (var rule in facts.Job.StockRules)
            {
                if (rule.Parts.Length > 0 && !rule.Parts.Any(name => Same(name, part.Id)))
                {
                    continue;
                }

                if (Broken(rule, part, one.Stock) is { } why)
                {
                    facts.Add("stock-ruled-out", one.Name, $"{part.Id} must not come from {one.Stock.Id}: {why}");
                }
            }
        }
    }

    /// <summary>Parts that want one stock, or one size of blank, have no more of it over the whole plan.</summary>
    public static void One(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts)
    {
        foreach (var part in facts.Parts.Values.Where(part => part.OneStock || part.OneSize))
        {
            var cut = layouts.SelectMany(one => one.Layout.Pieces.Where(piece => piece.PartId == part.Id).Select(piece => (one.Stock.Id, Size: RulesMoney.Measures(one, piece)))).ToList();
            if (part.OneStock && cut.Select(piece => piece.Id).Distinct().Count() > 1)
            {
                facts.Add("one-stock", $"part {part.Id}", $"is to come from one stock and comes from {string.Join(", ", cut.Select(piece => piece.Id).Distinct())}");
            }

            if (part.OneSize && cut.Select(piece => piece.Size).Distinct().Count() > 1)
            {
                facts.Add("one-size", $"part {part.Id}", $"is to have blanks of one size and has {cut.Select(piece => piece.Size).Distinct().Count()}");
            }
        }
    }

    private static bool Certified(Job job, Stock stock) => stock.RackMark is not null
        ? stock.Heat is { Length: > 0 }
        : job.Suppliers.Any(supplier => supplier.GivesCertificates && Same(supplier.Name, stock.Supplier ?? ""));

    private static string? Broken(StockRule rule, Part part, Stock stock)
    {
        if (rule.Only.Length > 0 && !rule.Only.Any(name => Means(name, stock)))
        {
            return "only other stock is allowed";
        }

        if (rule.Not.Any(name => Means(name, stock)))
        {
            return "it is left out";
        }

        if (stock.Supplier is { Length: > 0 } supplier && rule.NotFrom.Any(name => Same(name, supplier)))
        {
            return $"nothing is to come from {supplier}";
        }

        if (part.Detail is not null)
        {
            return null; // a length of a section has just its own thickness
        }

        var smallest = new[] { part.Length.Nanometres, part.Width.Nanometres, part.Thickness.Nanometres }.Min();
        var finished = stock.Form != Form.Plate || part.Round ? Length.FromNanometres(smallest) : part.Thickness;
        return rule.AtMostThicker is { } most && stock.Thickness > finished + most ? $"it is more than {most} thicker" : null;
    }

    private static bool Means(string name, Stock stock) =>
        Same(name, stock.Id) || Same(name, stock.RackMark ?? "") || (stock.CutFor is { } part && Same(name + " cut for " + part, stock.Id));

    private static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
}
