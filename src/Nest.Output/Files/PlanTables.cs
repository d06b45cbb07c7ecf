using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Files;

/// <summary>The plan as tables. Lengths in millimetres and masses in kilograms, exact, whatever the shop reads; head names are
/// fixed: programs read them.</summary>
internal static class PlanTables
{
    public static Sheet Buy(SheetContext context) => new(
        "buy",
        ["stock", "count", "form", "material", "length_mm", "width_mm", "thickness_mm", "supplier", "rack_mark", "place", "price_each", "price_total", "currency", "mass_each_kg", "mass_total_kg"],
        [.. CostSheet.BuyLines(context.Plan).Select(line => new object[]
        {
            line.Stock.Id, line.Count, FormName(line.Stock.Form), line.Stock.MaterialId, Mm(line.Stock.Length), Mm(line.Stock.Width), Mm(line.Stock.Thickness),
            line.Stock.Supplier ?? "", line.Stock.RackMark ?? "", line.Stock.Place ?? "", line.Stock.PiecePrice.Amount, line.Total.Amount, context.Job.Currency,
            Kg(line.Mass), Kg(line.TotalMass),
        })]);

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
        ["layout", "count", "step", "setting", "new_setting", "marked", "direction", "purpose", "on_saw", "against", "measure_mm", "measure_shown", "cut_length_mm", "comes_off", "angle_deg"],
        [.. work.Items.SelectMany(item =>
        {
            var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
            var words = new StepText(context, layout);
            var angled = new AngledText(context);
            return item.Sequence.Steps.Select(step => new object[]
            {
                item.Layout, item.Count, step.Number, step.Setting, step.NewSetting ? "yes" : "no", step.Marked ? "yes" : "no", Lower(step.Direction), Lower(step.Purpose),
                words.OnSaw(step), Lower(step.Against), Mm(step.Measure), words.Setting(step), Mm(step.CutLength), string.Join("; ", words.Off(new StepRow([step]))), 0m,
            }).Concat(item.Sequence.AngledCuts.Select(cut => new object[]
            {
                item.Layout, item.Count, cut.Number, cut.Setting, cut.NewSetting ? "yes" : "no", "no", Lower(CutDirection.Crosscut), "angled",
                angled.Part(cut), cut.End == Edge.Left ? Lower(Edge.Right) : Lower(Edge.Left), Mm(cut.Measure), angled.Measure(cut),
                Mm(cut.AcrossThickness ? layout.Sheet.SizeY : cut.Angle.Along(layout.Sheet.SizeY)),
                $"{SheetContext.Fill(context.Texts.Times, cut.Pieces)} {angled.Saw(cut)}, {angled.End(cut)}", cut.Angle.ToDegrees(),
            }));
        })]);

    public static Sheet Pieces(SheetContext context) => new(
        "pieces",
        ["layout", "count", "part_number", "part", "x_mm", "y_mm", "size_x_mm", "size_y_mm", "turned", "stock"],
        [.. context.Plan.Layouts.SelectMany(layout => layout.Pieces.Select(piece => new object[]
        {
            layout.Number, layout.Count, context.NumberOf(piece.PartId), piece.PartId, Mm(piece.Area.X), Mm(piece.Area.Y), Mm(piece.Area.SizeX),
            Mm(piece.Area.SizeY), piece.Turned ? "yes" : "no", layout.StockId,
        }))]);

    public static Sheet Offcuts(SheetContext context) => new(
        "offcuts",
        ["layout", "count", "mark", "keep", "x_mm", "y_mm", "size_x_mm", "size_y_mm", "thickness_mm", "material", "form", "value_each", "currency", "mass_each_kg"],
        [.. context.Plan.Layouts.SelectMany(layout => layout.Offcuts.Select((offcut, index) =>
        {
            var stock = context.Plan.StockOf(layout);
            var mass = OffcutSheet.MassOf(stock, context.Job.MaterialOf(stock.MaterialId), offcut.Area);
            return new object[]
            {
                layout.Number, layout.Count, offcut.Keep ? SheetContext.KeepMark(layout, index) : "", offcut.Keep ? "yes" : "no", Mm(offcut.Area.X), Mm(offcut.Area.Y),
                Mm(offcut.Area.SizeX), Mm(offcut.Area.SizeY), Mm(stock.Thickness), stock.MaterialId, FormName(stock.Form), offcut.Value.Amount, context.Job.Currency, Kg(mass),
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

    public static string FormName(Form form) => form switch
    {
        Form.Plate => "plate",
        Form.FlatBar => "flat-bar",
        Form.SquareBar => "square-bar",
        _ => "round-bar",
    };

    private static decimal Mm(Length length) => length.ToMillimetres();

    private static decimal Kg(Mass mass) => decimal.Round(mass.Kilograms, 4);

    private static string Lower<T>(T value)
        where T : struct, Enum => value.ToString().ToLowerInvariant();
}
