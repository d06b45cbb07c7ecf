using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Orders;
using Nest.Output.Sheets;

namespace Nest.Output.Files;

/// <summary>The plan as tables, in the job's unit (<see cref="TableUnits"/>). Numbers have a point, whatever the sheets write; head names are
/// fixed but for the unit: programs read them.</summary>
internal static class PlanTables
{
    /// <summary>What somebody wants to know first: cost and how good it is, what to pay and when all is there, work at the saw, orders.</summary>
    public static Sheet Summary(SheetContext context, WorkOrder work)
    {
        var plan = context.Plan;
        var cash = Cash.Of(context);
        var money = context.Job.Currency;
        var rows = new List<object?[]>
        {
            new object?[] { "job", context.Job.Name, "" },
            new object?[] { "plan", context.Print, "" },
            new object?[] { "pieces placed", plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length), "" },
            new object?[] { "pieces not placed", plan.Unplaced.Sum(line => line.Count), "" },
            new object?[] { "cost of the batch", cash.Cost, money },
            new object?[] { "lower bound", plan.Bound.Value is { } bound ? bound.Amount : null, money },
            new object?[] { "above the bound at most", plan.Gap is { } gap ? decimal.Ceiling(gap * 10_000m) / 100m : null, "%" },
            new object?[] { "standing", PlanSummary.Standing(context), "" },
            new object?[] { "to pay now", cash.Total, money },
        };
        rows.AddRange(cash.Steps.Select(step => new object?[] { step.Label, step.Amount, money }));
        rows.AddRange(cash.Orders.Select(entry => new object?[] { $"order: {OrderSheet.Name(context, entry.Order)}", entry.Amounts.Total, money }));
        rows.AddRange(
        [
            ["last delivery", plan.Orders.Select(order => context.Job.SupplierOf(order.Supplier)?.LeadDays ?? 0).DefaultIfEmpty(0).Max(), "days"],
            ["time at the saw", work.Minutes, "min"],
            ["cuts", work.Cuts, ""],
            ["settings", work.Settings, ""],
            ["plates and bars to saw", work.Items.Sum(item => item.Count), ""],
        ]);
        return new("summary", ["item", "value", "unit"], rows);
    }

    /// <summary>What is bought at what its supplier asks, then what the smallest orders and deliveries add: <c>price_total</c> adds up to the
    /// orders. Leftovers from the rack are not paid for: their worth there stands in a column of its own.</summary>
    public static Sheet Buy(SheetContext context)
    {
        var units = new TableUnits(context.Job.Unit);
        var lines = CostSheet.BuyLines(context.Plan).ToDictionary(line => line.Stock.Id, StringComparer.Ordinal);
        var rows = new List<object?[]>();
        foreach (var line in lines.Values.Where(line => line.FromRack))
        {
            rows.Add(Row(line, line.Stock.RackMark ?? "", "", "", "", line.Total.Amount));
        }

        foreach (var (order, amounts) in Cash.Of(context).Orders)
        {
            for (var at = 0; at < order.Lines.Length; at++)
            {
                var line = lines[order.Lines[at].StockId];
                rows.Add(Row(line, "", line.Stock.PiecePrice.Amount, decimal.Round(amounts.Lines[at] / line.Count, 4, MidpointRounding.AwayFromZero), amounts.Lines[at], ""));
            }

            Charge(order.Supplier, context.Texts.OrderTopUp, amounts.TopUp);
            Charge(order.Supplier, context.Texts.OrderDelivery, amounts.Delivery);
        }

        return new(
            "buy",
            units.Heads(
                "stock", "count", "form", "material", "length_{L}", "width_{L}", "thickness_{L}", "supplier", "rack_mark", "place", "price_listed_each", "price_each",
                "price_total", "currency", "rack_value_total", "mass_each_{M}", "mass_total_{M}"),
            rows);

        object?[] Row(BuyLine line, string mark, object listed, object each, object total, object worth) =>
        [
            line.Stock.Id, line.Count, FormName(line.Stock.Form), line.Stock.MaterialId, units.Size(line.Stock.Length), units.Size(line.Stock.Width), units.Size(line.Stock.Thickness),
            line.Stock.Supplier ?? "", mark, line.Stock.Place ?? "", listed, each, total, context.Job.Currency, worth, units.Weight(line.Mass), units.Weight(line.TotalMass),
        ];

        void Charge(string supplier, string what, decimal amount)
        {
            if (amount != 0m)
            {
                rows.Add([what, "", "", "", "", "", "", supplier, "", "", "", "", amount, context.Job.Currency, "", "", ""]);
            }
        }
    }

    public static Sheet Layouts(SheetContext context) => new(
        "layouts",
        ["layout", "count", "stock", "form", "material", "saw", "pieces", "yield_percent", "metal", "saw_cost", "facing", "offcut_credit", "scrap_credit", "cost_each", "cost_total", "currency"],
        [.. context.Plan.Layouts.Select(layout =>
        {
            var stock = context.Plan.StockOf(layout);
            var cost = layout.Cost;
            return new object[]
            {
                layout.Number, layout.Count, stock.Id, FormName(stock.Form), stock.MaterialId, layout.SawId, layout.Pieces.Length,
                decimal.Round(SheetContext.YieldOf(layout, stock), 2), cost.Metal.Amount, cost.Saw.Amount, cost.Facing.Amount, cost.OffcutCredit.Amount,
                cost.ScrapCredit.Amount, cost.Total.Amount, (cost.Total * layout.Count).Amount, context.Job.Currency,
            };
        })]);

    public static Sheet Cuts(SheetContext context, WorkOrder work) => new(
        "cuts",
        Units(context).Heads("layout", "count", "step", "setting", "new_setting", "marked", "direction", "purpose", "on_saw", "against", "measure_{L}", "measure_shown", "cut_length_{L}", "comes_off", "angle_deg"),
        [.. work.Items.SelectMany(item =>
        {
            var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
            var words = new StepText(context, layout);
            var angled = new AngledText(context);
            return item.Sequence.Steps.Select(step => new object[]
            {
                item.Layout, item.Count, step.Number, step.Setting, step.NewSetting ? "yes" : "no", step.Marked ? "yes" : "no", Word(step.Direction), Lower(step.Purpose),
                words.OnSaw(step), Lower(step.Against), Units(context).Size(step.Measure), words.Setting(step), Units(context).Size(step.CutLength), string.Join("; ", words.Off(new StepRow([step]))), 0m,
            }).Concat(item.Sequence.AngledCuts.Select(cut => new object[]
            {
                item.Layout, item.Count, cut.Number, cut.Setting, cut.NewSetting ? "yes" : "no", "no", Word(CutDirection.Crosscut), "angled",
                angled.Part(cut), cut.End == Edge.Left ? Lower(Edge.Right) : Lower(Edge.Left), Units(context).Size(cut.Measure), angled.Measure(cut),
                Units(context).Size(!cut.AcrossThickness ? cut.Angle.Along(layout.Sheet.SizeY)
                    : context.Plan.StockOf(layout) is { Detail: not null } section ? cut.Angle.Along(section.Thickness) : layout.Sheet.SizeY),
                $"{SheetContext.Fill(context.Texts.Times, cut.Pieces)} {angled.Saw(cut)}, {angled.End(cut)}", cut.Angle.ToDegrees(),
            }));
        })]);

    public static Sheet Pieces(SheetContext context) => new(
        "pieces",
        Units(context).Heads("layout", "count", "part_number", "part", "x_{L}", "y_{L}", "size_x_{L}", "size_y_{L}", "turned", "stock", "spare"),
        [.. context.Plan.Layouts.SelectMany(layout => layout.Pieces.Select(piece => new object[]
        {
            layout.Number, layout.Count, context.NumberOf(piece.PartId), piece.PartId, Units(context).Size(piece.Area.X), Units(context).Size(piece.Area.Y), Units(context).Size(piece.Area.SizeX),
            Units(context).Size(piece.Area.SizeY), piece.Turned ? "yes" : "no", layout.StockId, piece.Spare ? "yes" : "no",
        }))]);

    public static Sheet Offcuts(SheetContext context) => new(
        "offcuts",
        Units(context).Heads("layout", "count", "mark", "keep", "x_{L}", "y_{L}", "size_x_{L}", "size_y_{L}", "thickness_{L}", "material", "form", "value_each", "currency", "mass_each_{M}"),
        [.. context.Plan.Layouts.SelectMany(layout => layout.Offcuts.Select((offcut, index) =>
        {
            var stock = context.Plan.StockOf(layout);
            var mass = OffcutSheet.MassOf(stock, context.Job.MaterialOf(stock.MaterialId), offcut.Area);
            return new object[]
            {
                layout.Number, layout.Count, offcut.Keep ? SheetContext.KeepMark(layout, index) : "", offcut.Keep ? "yes" : "no", Units(context).Size(offcut.Area.X), Units(context).Size(offcut.Area.Y),
                Units(context).Size(offcut.Area.SizeX), Units(context).Size(offcut.Area.SizeY), Units(context).Size(stock.Thickness), stock.MaterialId, FormName(stock.Form), offcut.Value.Amount, context.Job.Currency, Units(context).Weight(mass),
            };
        }))]);

    public static Sheet Cost(SheetContext context)
    {
        return new(
        "cost",
        ["part", "pieces", "metal", "saw", "facing", "total", "per_piece", "currency"],
        [
            .. context.Plan.PartCosts.Select(part => new object[]
            {
                part.PartId, part.Pieces, part.Metal.Amount, part.Saw.Amount, part.Facing.Amount, part.Total.Amount,
                decimal.Round(part.Total.Amount / part.Pieces, 4), context.Job.Currency,
            }),
            ["TOTAL", context.Plan.PartCosts.Sum(part => part.Pieces), Sum(part => part.Metal), Sum(part => part.Saw), Sum(part => part.Facing), context.Plan.TotalCost.Amount, "", context.Job.Currency],
        ]);

        decimal Sum(Func<Core.Plans.PartCost, Money> of) => context.Plan.PartCosts.Sum(part => of(part).Amount);
    }

    public static string FormName(Form form) => form.Word().Replace(' ', '-');

    private static TableUnits Units(SheetContext context) => new(context.Job.Unit);

    private static string Word(CutDirection direction) => direction == CutDirection.Rip ? "along" : "across";

    private static string Lower<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();
}
