using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Orders;
using Nest.Output.Sheets;

namespace Nest.Output;

/// <summary>The plan in short, for a console: at most 100 columns, plain text.</summary>
public static class PlanSummary
{
    private const int Width = 100;

    /// <summary>Writes it.</summary>
    public static void Write(Plan plan, TextWriter writer, OutputOptions options)
    {
        var context = new SheetContext(plan, options);
        var texts = context.Texts;
        foreach (var line in Lines(context))
        {
            writer.WriteLine(line);
        }

        writer.WriteLine();
        writer.WriteLine(texts.Cautions);
        foreach (var caution in Cautions.Of(context))
        {
            foreach (var line in SummaryLines.Wrapped(caution, Width - 4).Select((line, at) => (at == 0 ? "  ! " : "    ") + line))
            {
                writer.WriteLine(line);
            }
        }
    }

    /// <summary>How good the plan is, in plain words.</summary>
    internal static string Standing(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        return plan.Status switch
        {
            SolveStatus.Proven => texts.SummaryStatusProven,
            SolveStatus.Impossible => texts.SummaryStatusImpossible,
            SolveStatus.NotFound => texts.SummaryStatusNotFound,
            _ when plan.Layouts.Length == 0 => texts.SummaryStatusNothing,
            _ when plan.IsContradicted => SheetContext.Fill(texts.SummaryStatusContradicted, context.Amount(plan.Bound.Value!.Value), plan.Bound.Source),
            _ when plan.Bound.Value is { } bound => plan.Gap is { } gap
                ? SheetContext.Fill(texts.SummaryStatusGap, Percent(context, gap), context.Amount(bound))
                : SheetContext.Fill(texts.SummaryStatusMoney, context.Amount(plan.TotalCost - bound), context.Amount(bound)),
            _ when plan.Unplaced.Length > 0 => texts.SummaryStatusPartial,
            _ => texts.SummaryStatusNoBound,
        };
    }

    // Rounded up: never claim to be closer than proven.
    private static string Percent(SheetContext context, decimal gap) =>
        context.Options.Numbers.Number(decimal.Ceiling(gap * 10_000m) / 100m, 2);

    private static IEnumerable<string> Lines(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        var pieces = plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length);
        yield return SummaryLines.Cut($"{context.Job.Name}   {SheetContext.Fill(texts.Plan, context.Print)}", Width);
        yield return SummaryLines.Cut($"{context.Amount(plan.TotalCost)}, {SheetContext.Fill(texts.Pieces, pieces)}", Width);
        yield return SummaryLines.Cut(Cash.PayText(context), Width);
        foreach (var line in plan.Layouts.IsEmpty ? [] : SummaryLines.Wrapped(Cash.DifferenceText(context), Width - 2))
        {
            yield return "  " + line;
        }

        foreach (var line in SummaryLines.Wrapped(Standing(context), Width))
        {
            yield return line;
        }

        var (rack, delivery) = Cautions.Lines(plan);
        var toBuy = plan.Orders.IsEmpty ? Section(texts.Buy, delivery, line => Stock(line, line.Total)) : plan.Orders.SelectMany(order => Order(order, delivery));
        foreach (var line in toBuy.Concat(Section(texts.UsedRack, rack, line => Stock(line, line.Total))))
        {
            yield return line;
        }

        foreach (var line in Section(texts.LayoutsTitle, [.. plan.Layouts.Where(layout => !layout.Pieces.IsEmpty)], layout =>
        {
            var stock = plan.StockOf(layout);
            var yielded = SheetContext.Fill(texts.Yield, context.Percent(SheetContext.YieldOf(layout, stock)));
            return $"  {SummaryLines.Right(layout.Number, 3)}  {SummaryLines.Right(layout.Count, 3)} × {Named(context, stock, 52)}"
                + $" {SummaryLines.Right(layout.Pieces.Length, 5)} × {SummaryLines.Right(yielded, 14)}";
        }))
        {
            yield return line;
        }

        foreach (var line in WholeLines(context))
        {
            yield return line;
        }

        foreach (var line in CostLines(context))
        {
            yield return line;
        }

        var kept = plan.Layouts.SelectMany(layout => SheetContext.Kept(layout).Select(kept => (Layout: layout, kept.Mark, kept.Offcut)));
        foreach (var line in Section(texts.OffcutsKept, [.. kept], one =>
        {
            var stock = plan.StockOf(one.Layout);
            return $"  {SummaryLines.Pad(one.Mark, 8)} {SummaryLines.Right(one.Layout.Count, 3)} × {SummaryLines.Pad($"{context.FormOf(stock)} {stock.MaterialId} {OffcutSheet.SizeOf(context, stock, one.Offcut.Area)}", 58)} {SummaryLines.Right(context.Amount(one.Offcut.Value), 16)}";
        }))
        {
            yield return line;
        }

        foreach (var line in Paragraphs(texts.NotCut, plan.Unplaced.Select(line => $"{SummaryLines.Right(line.Count, 4)} × {line.PartId}: {line.Reason}")))
        {
            yield return line;
        }

        if (Cautions.HeaviestOf(plan) is { } heaviest)
        {
            yield return "";
            var lift = heaviest.Mass > plan.Job.LiftLimit ? ": " + texts.Lift : "";
            yield return SummaryLines.Cut(SheetContext.Fill(texts.HeaviestToLift, context.MassOf(heaviest.Mass), $"{context.FormOf(heaviest.Stock)} {heaviest.Stock.MaterialId} {context.SizeOf(heaviest.Stock)}", lift), Width);
        }

        // An order: each line with its cost by the supplier's terms and the reason below, then the sums.
        IEnumerable<string> Order(Core.Plans.Order order, List<BuyLine> bought)
        {
            yield return "";
            yield return SummaryLines.Cut(OrderReasons.Title(context, order), Width);
            foreach (var line in order.Lines)
            {
                yield return SummaryLines.Cut(Stock(bought.First(one => one.Stock.Id == line.StockId), line.Cost), Width);
                var reasons = string.Join("; ", OrderReasons.Of(context, order, line));
                foreach (var row in reasons.Length == 0 ? [] : SummaryLines.Wrapped(reasons, Width - 9))
                {
                    yield return "         " + row;
                }
            }

            foreach (var row in SummaryLines.Wrapped(OrderReasons.Sums(context, order), Width - 2))
            {
                yield return "  " + row;
            }
        }

        string Stock(BuyLine line, Core.Quantities.Money total)
        {
            var name = line.Stock.IsLeftover ? line.Stock.RackMark! : line.Stock.Id;
            return $"  {SummaryLines.Right(line.Count, 4)} × {Named(context, line.Stock, 46)} {SummaryLines.Pad(name, 16)}"
                + $" {SummaryLines.Right(context.MassOf(line.Mass), 10)} {SummaryLines.Right(context.Amount(total), 14)}";
        }
    }

    private static string Named(SheetContext context, Core.Jobs.Stock stock, int width) =>
        SummaryLines.Pad($"{context.FormOf(stock)} {stock.MaterialId} {context.SizeOf(stock)}", width);

    private static IEnumerable<string> WholeLines(SheetContext context) => Paragraphs(
        context.Texts.WholeTitle,
        context.Plan.Orders.SelectMany(order => order.Lines.Where(line => OrderReasons.Whole(context, line) > 0).Select(line => OrderReasons.WholeText(context, order, line, "{0,4} × {1} {2}"))));

    private static IEnumerable<string> CostLines(SheetContext context)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        if (plan.PartCosts.Length == 0)
        {
            yield break;
        }

        yield return "";
        yield return $"{SummaryLines.Pad(texts.CostByPart, 38)} {Columns(texts.Count, texts.Metal, texts.Saw, texts.Facing, texts.PerPiece)}";
        foreach (var part in plan.PartCosts)
        {
            yield return $"  {SummaryLines.Pad(part.PartId, 36)} "
                + Columns(part.Pieces, Money(part.Metal.Amount), Money(part.Saw.Amount), Money(part.Facing.Amount), Money(part.Total.Amount / part.Pieces));
        }

        foreach (var job in plan.Job.Together)
        {
            var own = plan.PartCosts.Where(part => job.Owns(part.PartId)).ToList();
            yield return $"  {SummaryLines.Pad(SheetContext.Fill(texts.JobSets, job.Name, job.Sets), 36)} " + Columns(
                own.Sum(part => part.Pieces), Money(own.Sum(part => part.Metal.Amount)), Money(own.Sum(part => part.Saw.Amount)), Money(own.Sum(part => part.Facing.Amount)),
                Money(own.Sum(part => part.Total.Amount)));
        }

        yield return $"  {SummaryLines.Pad(texts.CostPerBatch, 36)} " + Columns(
            plan.PartCosts.Sum(part => part.Pieces), Money(plan.PartCosts.Sum(part => part.Metal.Amount)),
            Money(plan.PartCosts.Sum(part => part.Saw.Amount)), Money(plan.PartCosts.Sum(part => part.Facing.Amount)), context.Amount(plan.TotalCost));

        foreach (var line in SparesText.Of(context) is { } spares ? SummaryLines.Wrapped(spares, Width) : [])
        {
            yield return line;
        }

        static string Columns(object pieces, string metal, string saw, string facing, string last) =>
            $"{SummaryLines.Right(pieces, 6)} {SummaryLines.Right(metal, 12)} {SummaryLines.Right(saw, 11)} {SummaryLines.Right(facing, 11)} {SummaryLines.Right(last, 11)}";

        string Money(decimal amount) => context.Options.Numbers.Number(amount, 2);
    }

    private static IEnumerable<string> Section<T>(string title, List<T> items, Func<T, string> line)
    {
        if (items.Count == 0)
        {
            yield break;
        }

        yield return "";
        yield return title;
        foreach (var item in items)
        {
            yield return SummaryLines.Cut(line(item), Width);
        }
    }

    /// <summary>A title and whole paragraphs below it: what they say is never cut.</summary>
    private static IEnumerable<string> Paragraphs(string title, IEnumerable<string> items)
    {
        var first = true;
        foreach (var item in items)
        {
            if (first)
            {
                yield return "";
                yield return title;
                first = false;
            }

            foreach (var (line, at) in SummaryLines.Wrapped(item, Width - 9).Select((line, at) => (line, at)))
            {
                yield return (at == 0 ? "  " : "         ") + line;
            }
        }
    }
}
