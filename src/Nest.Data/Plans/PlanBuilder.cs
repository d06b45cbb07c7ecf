using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Data.Plans;

/// <summary>From a document to the plan. Names that lead nowhere and numbers that no plan has are findings; whether the plan is
/// <b>right</b> is the checker's business.</summary>
internal sealed class PlanBuilder(string path, PlanDocument document, FindingList findings)
{
    private readonly HashSet<string> parts = Names(document.Job.Parts.Select(part => part.Id));
    private readonly Dictionary<string, Stock> stocks = document.Job.Stocks.DistinctBy(stock => stock.Id).ToDictionary(stock => stock.Id);
    private readonly HashSet<string> saws = Names(document.Job.Saws.Select(saw => saw.Id));

    public Plan? Build()
    {
        JobLimits.Check(document.Job, Error);
        if (findings.Errors > 0)
        {
            return null;
        }

        var layouts = document.Layouts.Select(Layout).ToArray();
        Require(document.Currency == document.Job.Currency, "currency", "is not the job's currency");
        Require(document.Name == document.Job.Name, "name", "is not the job's name");
        Require(
            document.Version > 2 || document.Job.Stocks.All(stock => stock.CutFrom is null),
            "job.stocks", $"have cutFrom, which is no value of version {document.Version}");
        Require(document.Version > 2 || !HasNewer(document), "file", $"has values that are none of version {document.Version}");
        Require(document.Version > 2 || !HasSections(document.Job), "file", $"has sections, which version {document.Version} does not know");
        Require(document.Seconds is >= 0 and <= 1e9, "seconds", "is not a time limit");
        foreach (var (unplaced, at) in document.Unplaced.Select((unplaced, at) => (unplaced, at)))
        {
            Require(parts.Contains(unplaced.Part), $"unplaced[{at}].part", $"names no part: '{unplaced.Part}'");
            Require(unplaced.Count > 0, $"unplaced[{at}].count", "is not above zero");
        }

        foreach (var (cost, at) in document.PartCosts.Select((cost, at) => (cost, at)))
        {
            Require(parts.Contains(cost.Part), $"partCosts[{at}].part", $"names no part: '{cost.Part}'");
        }

        for (var i = 0; i < document.Orders.Length; i++)
        {
            var order = document.Orders[i];
            Require(order.Goods + order.TopUp + order.Delivery == order.Total, $"orders[{i}].total", "is not the sum of its lines");
            for (var k = 0; k < order.Lines.Length; k++)
            {
                Require(stocks.ContainsKey(order.Lines[k].Stock), $"orders[{i}].lines[{k}].stock", $"names no stock of the job: '{order.Lines[k].Stock}'");
            }
        }

        if (findings.Errors > 0)
        {
            return null;
        }

        var plan = new Plan
        {
            Job = document.Job,
            Status = document.Status,
            Layouts = [.. layouts.OfType<Layout>()],
            Unplaced = [.. document.Unplaced.Select(unplaced => new Unplaced(unplaced.Part, unplaced.Count, unplaced.Reason))],
            TotalCost = document.TotalCost,
            SpareCost = document.SpareCost ?? Money.Zero,
            Bound = BoundOf(document),
            Orders = [.. document.Orders.Select(order => new Order(
                order.Supplier,
                [.. order.Lines.Select(line => new OrderLine(line.Stock, line.Count, line.Listed, line.Cost))],
                order.Goods, order.TopUp, order.Delivery))],
            PartCosts = [.. document.PartCosts.Select(cost => new PartCost(cost.Part, cost.Pieces, cost.Metal, cost.Saw, cost.Facing))],
            Seconds = document.Seconds,
            Seed = document.Seed,
        };
        CheckDerived(plan);
        return findings.Errors == 0 ? plan : null;
    }

    /// <summary>Whether there is fuss, a rule for stock, a kept layout or several jobs, which came with version 3.</summary>
    private static bool HasNewer(PlanDocument plan) =>
        plan.Job.Parts.Any(part => part.PerBlank is not null || part.Gang is not null) || plan.Job.Mill is not { BlankMinutes: 0m, ViseOpening: null, TravelX: null, TravelY: null }
        || plan.Job.Fuss.IsCounted || !plan.Job.Together.IsEmpty || plan.Job.UseFirst is not null || plan.Job.Saws.Any(saw => saw.LoadMinutes != 0m || saw.LongestStock is not null)
        || plan.Job.Parts.Any(part => part.FreeSpares > 0) || plan.Job.FreeSparesUpTo is not null || plan.SpareCost is not null || plan.Layouts.Any(layout => layout.Pieces.Any(piece => piece.Spare is not null))
        || plan.Job.Parts.Any(part => part.OneStock || part.OneSize || part.Certificate)
        || plan.Job.Stocks.Any(stock => stock.UseFirst) || plan.Job.Suppliers.Any(supplier => supplier.GivesCertificates)
        || plan.Layouts.Any(layout => layout.Kept is not null);

    /// <summary>Whether a part asks for a section or stock is one, which came with version 3.</summary>
    private static bool HasSections(Job job) =>
        job.Parts.Any(part => part.Detail is not null || (part.Forms & ~Forms.Any) != Forms.None) || job.Stocks.Any(stock => stock.Form.IsSection())
        || job.OffcutRules.Any(rule => rule.Form?.IsSection() == true);

    /// <summary>Version 1 had no word for "no bound" but zero, and did not tell who found it.</summary>
    private Bound BoundOf(PlanDocument plan)
    {
        if (plan.Version > 1)
        {
            Require(plan.LowerBound is null == plan.BoundSource is null, "boundSource", "belongs to lowerBound: both or none");
            Require(plan.BoundSource is not "", "boundSource", "is empty");
            return plan is { LowerBound: { } value, BoundSource: { Length: > 0 } source } ? Bound.Of(value, source) : Bound.None;
        }

        Require(plan.BoundSource is null, "boundSource", "is no value of version 1");
        Require(plan.LowerBound is not null, "lowerBound", "is missing");
        return plan.LowerBound is { } old && (old > Money.Zero || plan.Status == SolveStatus.Proven)
            ? Bound.Of(old, "not told (plan file of version 1)") : Bound.None;
    }

    private decimal? GapOf(Plan plan)
    {
        if (document.Version > 1)
        {
            return PlanDocuments.GapOf(plan);
        }

        // Version 1 wrote 1 where there was no bound above zero.
        var (cost, bound) = (document.TotalCost.Amount, document.LowerBound?.Amount ?? 0m);
        return cost <= bound || cost <= 0m ? 0m : bound <= 0m ? 1m : decimal.Round((cost - bound) / bound, 6, MidpointRounding.AwayFromZero);
    }

    private Layout? Layout(LayoutDocument layout, int at)
    {
        var here = $"layouts[{at}]";
        var before = findings.Errors;
        if (stocks.TryGetValue(layout.Stock, out var stock))
        {
            Require(layout.Form == stock.Form, $"{here}.form", $"is not the form of '{stock.Id}'");
        }
        else
        {
            Error($"{here}.stock", $"names no stock of the job: '{layout.Stock}'");
        }

        Require(saws.Contains(layout.Saw) || layout.Saw == Saw.SupplierId, $"{here}.saw", $"names no saw of the job: '{layout.Saw}'");
        Require(layout.Count is > 0 and <= JobLimits.MostPieces, $"{here}.count", "is not a count of pieces");
        for (var i = 0; i < layout.Pieces.Length; i++)
        {
            Require(parts.Contains(layout.Pieces[i].Part), $"{here}.pieces[{i}].part", $"names no part of the job: '{layout.Pieces[i].Part}'");
        }

        CutNode? tree = null;
        if (layout.Tree is { } list)
        {
            (tree, var error) = CutTreeList.Build(list);
            Require(tree is not null, $"{here}.tree", error);
            for (var i = 0; i < list.Length; i++)
            {
                var most = list[i].Kind == CutNodeKind.Piece ? layout.Pieces.Length : layout.Offcuts.Length;
                Require(
                    list[i].Kind == CutNodeKind.Split || (list[i].Index >= 0 && list[i].Index < most),
                    $"{here}.tree[{i}].index", "leads to no piece or offcut of the layout");
            }
        }

        var cost = new LayoutCost(
            layout.Cost.Metal, layout.Cost.Saw, layout.Cost.Facing, layout.Cost.OffcutCredit, layout.Cost.ScrapCredit);
        Require(cost.Total == layout.Cost.Total, $"{here}.cost.total", "is not the sum of its lines");
        return findings.Errors > before ? null : new()
        {
            Number = layout.Number,
            StockId = layout.Stock,
            SawId = layout.Saw,
            Count = layout.Count,
            Kept = layout.Kept ?? false,
            Sheet = layout.Sheet,
            Trims = layout.Trims,
            Pieces = [.. layout.Pieces.Select(piece => new PlacedPiece(piece.Part, piece.Area, piece.Turned) { Ends = piece.Ends, Spare = piece.Spare ?? false })],
            Tree = tree,
            Offcuts = [.. layout.Offcuts.Select(offcut => new Offcut(offcut.Area, offcut.Keep, offcut.Value))],
            Cost = cost,
        };
    }

    /// <summary>What the file repeats for readers must be what the plan says: a hand that changes one must not mislead the other.</summary>
    private void CheckDerived(Plan plan)
    {
        Require(document.Gap == GapOf(plan), "gap", "does not follow from totalCost and lowerBound");
        Require(document.Buy.SequenceEqual(PlanDocuments.Buy(plan)), "buy", "does not follow from the layouts");
        Require(document.Take.SequenceEqual(PlanDocuments.Take(plan)), "take", "does not follow from the layouts");
        Require(document.Offcuts.SequenceEqual(PlanDocuments.Offcuts(plan)), "offcuts", "does not follow from the layouts");
        var needed = SparesOut.Of(plan.Job, plan.Layouts);
        var settings = SettingCosts.Of(plan.Job, needed);
        Require((document.Settings ?? settings.Settings) == settings.Settings, "settings", "does not follow from the layouts");
        Require((document.CarriedOver ?? settings.CarriedOver) == settings.CarriedOver, "carriedOver", "does not follow from the layouts");
        var fuss = FussCosts.Of(plan.Job, needed);
        Require(document.Loading == PlanDocuments.Some(fuss.Loading), "loading", "does not follow from the layouts");
        Require(document.Ordering == PlanDocuments.Some(fuss.Orders), "ordering", "does not follow from the layouts");
        Require(document.FurtherSizes == PlanDocuments.Some(fuss.FurtherSizes), "furtherSizes", "does not follow from the layouts");
        settings = SettingCosts.Of(plan.Job, plan.Layouts);
        for (var i = 0; i < plan.Layouts.Length; i++)
        {
            Require(
                (document.Layouts[i].Settings ?? settings.Lines[i].Settings) == settings.Lines[i].Settings,
                $"layouts[{i}].settings", "does not follow from the tree");
        }

        for (var i = 0; i < plan.PartCosts.Length; i++)
        {
            Require(document.PartCosts[i].Total == plan.PartCosts[i].Total, $"partCosts[{i}].total", "is not the sum of its lines");
        }
    }

    private void Require(bool holds, string what, string message)
    {
        if (!holds)
        {
            Error(what, message);
        }
    }

    private void Error(string what, string message) =>
        findings.Error("plan-damaged", new(path), $"{what} {message}", "plan the job again, or restore the file");

    private static HashSet<string> Names(IEnumerable<string> names) => names.ToHashSet(StringComparer.Ordinal);
}
