using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Data.Plans;

/// <summary>From a plan to its document, with all that is derived.</summary>
internal static class PlanDocuments
{
    // More decimals of the gap say nothing.
    private const int GapDecimals = 6;

    public static PlanDocument From(Plan plan)
    {
        // The plan's money is that of the pieces needed; how often a layout is set is as it is cut.
        var needed = SparesOut.Of(plan.Job, plan.Layouts);
        var settings = SettingCosts.Of(plan.Job, needed);
        var fuss = FussCosts.Of(plan.Job, needed);
        return From(plan, SettingCosts.Of(plan.Job, plan.Layouts)) with
        {
            Settings = settings.Settings,
            CarriedOver = settings.CarriedOver,
            Loading = Some(fuss.Loading),
            Ordering = Some(fuss.Orders),
            FurtherSizes = Some(fuss.FurtherSizes),
        };
    }

    /// <summary>Null for nothing.</summary>
    public static Money? Some(Money money) => money == Money.Zero ? null : money;

    private static PlanDocument From(Plan plan, SettingCosts settings) => new()
    {
        Format = PlanDocument.FormatName,
        Version = PlanDocument.CurrentVersion,
        Name = plan.Job.Name,
        Status = plan.Status,
        Currency = plan.Job.Currency,
        TotalCost = plan.TotalCost,
        SpareCost = Some(plan.SpareCost),
        LowerBound = plan.Bound.Value,
        BoundSource = plan.Bound.IsKnown ? plan.Bound.Source : null,
        Gap = GapOf(plan),
        Seconds = plan.Seconds,
        Seed = plan.Seed,
        Buy = Buy(plan),
        Take = Take(plan),
        Orders = [.. plan.Orders.Select(From)],
        Layouts = [.. plan.Layouts.Select((layout, at) => From(plan, layout) with { Settings = settings.Lines[at].Settings })],
        Offcuts = Offcuts(plan),
        Unplaced = [.. plan.Unplaced.Select(unplaced => new UnplacedDocument(unplaced.PartId, unplaced.Count, unplaced.Reason))],
        PartCosts = [.. plan.PartCosts.Select(cost => new PartCostDocument(cost.PartId, cost.Pieces, cost.Metal, cost.Saw, cost.Facing, cost.Total))],
        Job = plan.Job,
    };

    public static decimal? GapOf(Plan plan) => plan.Gap is { } gap ? decimal.Round(gap, GapDecimals, MidpointRounding.AwayFromZero) : null;

    /// <summary>Bought stock, in the order in which the layouts name it first.</summary>
    public static ImmutableArray<BuyDocument> Buy(Plan plan) =>
    [
        .. plan.Layouts.Where(layout => !plan.StockOf(layout).IsLeftover).GroupBy(layout => layout.StockId).Select(group =>
        {
            var stock = plan.StockOf(group.First());
            var count = group.Sum(layout => layout.Count);
            var line = plan.Orders.SelectMany(order => order.Lines).FirstOrDefault(line => line.StockId == stock.Id);
            return new BuyDocument(
                stock.Id, stock.Form, stock.MaterialId, count, stock.PiecePrice, line?.Cost ?? (stock.PiecePrice * count), stock.Supplier);
        }),
    ];

    public static ImmutableArray<TakeDocument> Take(Plan plan) =>
    [
        .. plan.Layouts.Select(plan.StockOf).Where(stock => stock.IsLeftover).DistinctBy(stock => stock.Id)
            .Select(stock => new TakeDocument(stock.Id, stock.RackMark!, stock.Place)),
    ];

    /// <summary>Offcuts of all layouts, equal ones of a layout together; length is the longer side of a plate's offcut.</summary>
    public static ImmutableArray<LeftDocument> Offcuts(Plan plan) =>
    [
        .. plan.Layouts.SelectMany(layout => layout.Offcuts
            .Select(offcut =>
            {
                var bar = plan.StockOf(layout).Form.IsBar();
                var (x, y) = (offcut.Area.SizeX, offcut.Area.SizeY);
                return (offcut.Keep, Length: bar ? x : Length.Max(x, y), Width: bar ? y : Length.Min(x, y), offcut.Value);
            })
            .GroupBy(offcut => offcut)
            .Select(group => new LeftDocument(
                layout.Number, layout.StockId, group.Key.Keep, group.Key.Length, group.Key.Width, group.Count() * layout.Count, group.Key.Value))),
    ];

    private static OrderDocument From(Order order) => new(
        order.Supplier,
        [.. order.Lines.Select(line => new OrderLineDocument(line.StockId, line.Count, line.Listed, line.Cost))],
        order.Goods, order.TopUp, order.Delivery, order.Total);

    private static LayoutDocument From(Plan plan, Layout layout) => new()
    {
        Number = layout.Number,
        Stock = layout.StockId,
        Form = plan.StockOf(layout).Form,
        Saw = layout.SawId,
        Count = layout.Count,
        Kept = layout.Kept ? true : null,
        Sheet = layout.Sheet,
        Trims = layout.Trims,
        Pieces = [.. layout.Pieces.Select(piece => new PieceDocument(piece.PartId, piece.Area, piece.Turned, piece.Ends, piece.Spare ? true : null))],
        Offcuts = [.. layout.Offcuts.Select(offcut => new OffcutDocument(offcut.Area, offcut.Keep, offcut.Value))],
        Tree = layout.Tree is { } tree ? CutTreeList.Flatten(tree) : null,
        Cost = new(
            layout.Cost.Metal, layout.Cost.Saw, layout.Cost.Facing, layout.Cost.OffcutCredit, layout.Cost.ScrapCredit, layout.Cost.Total),
    };
}
