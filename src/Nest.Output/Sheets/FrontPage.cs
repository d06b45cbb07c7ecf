using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Rack;
using Nest.Output.Scenes;
using Nest.Output.Texts;

namespace Nest.Output.Sheets;

/// <summary>What to be careful with, what to fetch from the rack and from each delivery, and the layouts in the order of work.</summary>
internal static class FrontPage
{
    private const double Size = 3.6;

    public static void Draw(SheetPages pages, SheetContext context, WorkOrder work)
    {
        var texts = context.Texts;
        var y = pages.Start(SheetContext.Fill("{0}: {1}", texts.SawPlan, context.Job.Name)) + 1;
        y = Box(pages, context, y) + 3;
        var (rack, delivery) = Cautions.Lines(context.Plan);
        if (rack.Count > 0)
        {
            y = Stock(pages, context, texts.Fetch, rack, y, true) + 3;
        }

        foreach (var supplier in delivery.GroupBy(line => line.Stock.Supplier ?? "", StringComparer.Ordinal).OrderBy(group => Days(context, group.Key)))
        {
            y = Stock(pages, context, Title(context, supplier.Key), [.. supplier], y, false) + 3;
        }

        if (rack.Count + delivery.Count == 0)
        {
            y = pages.Scene.Paragraph(Layer.Page, texts.Nothing, pages.Body, y, Size) + 3;
        }

        y = NotCut(pages, context, y);
        y = Totals(pages, context, work, y);
        y = Scan(pages, context, y);
        Order(pages, context, work, y + 2);
    }

    private static int Days(SheetContext context, string supplier) => context.Job.SupplierOf(supplier)?.LeadDays ?? 0;

    // Supplier, and the day when it is due: counted from the sheet's date where it has one.
    private static string Title(SheetContext context, string supplier)
    {
        var texts = context.Texts;
        var name = SheetContext.Fill(texts.DeliveryFrom, supplier.Length == 0 ? texts.OrderNobody : supplier);
        var days = Days(context, supplier);
        return days == 0 ? name
            : context.Options.Date is { } date
                ? $"{name}, {SheetContext.Fill(texts.DeliveryDue, date.AddDays(days).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture))}"
                : $"{name}, {(days == 1 ? texts.InOneDay : SheetContext.Fill(texts.InDays, days))}";
    }

    private static double Stock(SheetPages pages, SheetContext context, string title, List<BuyLine> lines, double top, bool rack)
    {
        var texts = context.Texts;
        var y = Title(pages, title, top);
        var rows = lines.Select(line => Row(context, line, rack)).ToArray();
        var marked = rows.Any(row => row[^1].Length > 0) ? 20 : 0;
        var (tick, checkedTick) = (rack ? 18 : 15, rack ? 0 : 17);
        var rest = pages.Body.Width - tick - checkedTick - 14 - 17 - 19 - marked;
        var size = Math.Min(rest * 0.45, 2.4 + rows.Max(row => FontBook.Width(row[3], Face.Bold, Size)));
        Column[] columns =
        [
            new(rack ? texts.HeadFetched : texts.HeadCame, tick), new(rack ? "" : texts.HeadChecked, checkedTick), new(texts.Count, 14, Align.Right, Face.Bold),
            new(texts.Size, size, Align.Left, Face.Bold), new(texts.Material, rest - size), new(texts.Layouts, 17, Align.Left, Face.Bold), new(texts.MassEach, 19, Align.Right),
            new("", marked, Align.Left, Face.Bold),
        ];
        int[] shown = [.. Enumerable.Range(0, columns.Length).Where(at => columns[at].Width > 0)];
        y = Table.Draw(pages, y, [.. shown.Select(at => columns[at])], [.. rows.Select(row => shown.Select(at => row[at]).ToArray())], Size, title: SheetContext.Fill(texts.Continued, title));
        var mass = lines.Aggregate(default(Mass), (sum, line) => sum + line.TotalMass);
        var pieces = lines.Sum(line => line.Count) is var count && count == 1 ? texts.OnePiece : SheetContext.Fill(texts.Pieces, count);
        y = y + 6 > pages.Body.Bottom ? pages.Next() : y;
        pages.Scene.Text(Layer.Page, $"{pieces}, {context.MassOf(mass)}", pages.Body.X + tick + checkedTick, y + 4.2, Size, pages.Body, Face.Bold);
        return y + 5;
    }

    // Size and material first; the supplier's code, or the mark on the rack, behind the material.
    private static string[] Row(SheetContext context, BuyLine line, bool rack)
    {
        var texts = context.Texts;
        var stock = line.Stock;
        var marks = new List<string>();
        if (line.Mass > context.Job.LiftLimit)
        {
            marks.Add("▲ " + texts.LiftShort);
        }

        if (Cautions.IsLong(context.Job, stock))
        {
            marks.Add(texts.LongShort);
        }

        // Nobody saws it: no layout of the sheet is its.
        var whole = context.Plan.Layouts.Where(layout => layout.StockId == stock.Id && layout.Pieces.IsEmpty).Sum(layout => layout.Count);
        if (whole > 0)
        {
            marks.Add(SheetContext.Fill(texts.WholeToRack, whole));
        }

        var form = $"{context.FormOf(stock)} {stock.MaterialId}";
        var name = rack ? stock.RackMark + (stock.Place is null ? "" : $" ({stock.Place})") : stock.Id;
        if (stock.CutFor is { } part)
        {
            name = $"{SheetContext.Fill(texts.PartNumber, context.Number(part))} {part}";
        }

        var used = context.Plan.Layouts.Where(layout => layout.StockId == stock.Id && !layout.Pieces.IsEmpty).Select(layout => layout.Number).Order().ToArray();
        return
        [
            "□", rack ? "" : "□", SheetContext.Fill(texts.Times, line.Count), context.SizeOf(stock), $"{form} · {name}",
            stock.CutFor is null ? Ranges.Text(used) : texts.ReadyBlank, context.MassOf(line.Mass), string.Join("; ", marks),
        ];
    }

    private static double Totals(SheetPages pages, SheetContext context, WorkOrder work, double top)
    {
        var sawn = context.Plan.Layouts.Where(layout => context.Plan.StockOf(layout).CutFor is null && !layout.Pieces.IsEmpty).ToArray();
        var text = SheetContext.Fill(context.Texts.TotalsLine, sawn.Sum(layout => layout.Count), sawn.Sum(layout => layout.Count * layout.Pieces.Length), work.Cuts, work.Settings)
            + ". " + SheetContext.Fill(context.Texts.TimeLine, Duration(context.Texts, work.Minutes));
        return pages.Paragraph(text, top, 14, Size);
    }

    /// <summary>The code that opens the plan's page for the saw on a phone; nothing where the shop's desk has no address.</summary>
    private static double Scan(SheetPages pages, SheetContext context, double top)
    {
        const double Side = 30;
        if (context.Options.SawAddress is not { } address)
        {
            return top;
        }

        var y = top + 2 + Side > pages.Body.Bottom ? pages.Next() : top + 2;
        CodeScene.Draw(pages.Scene, Layer.Page, $"{address}/{context.Print}", new Box(pages.Body.X, y, Side, Side));
        pages.Scene.Paragraph(Layer.Page, context.Texts.ScanToSaw, new Box(pages.Body.X + Side + 4, y, pages.Body.Width - Side - 4, Side), y + 10, Size);
        return y + Side;
    }

    public static string Duration(SheetTexts texts, decimal minutes)
    {
        var whole = (int)decimal.Ceiling(minutes);
        return whole < 60 ? SheetContext.Fill(texts.DurationMinutes, whole) : SheetContext.Fill(texts.DurationHours, whole / 60, whole % 60);
    }

    private static double Box(SheetPages pages, SheetContext context, double top)
    {
        const double Type = 3.3;
        var lines = Cautions.OfSaw(context);
        var inner = pages.Body.Width - 13;
        var height = 8.4 + lines.Sum(line => SceneBuilder.ParagraphHeight(line, inner, Type) + 0.6);
        var scene = pages.Scene;
        var box = new Box(pages.Body.X, top, pages.Body.Width, height);
        scene.Box(Layer.Page, box, null, new Stroke(PartLook.Ink, 0.8));
        scene.Text(Layer.Page, context.Texts.Cautions, box.X + 3, top + 5, Print.Head, box, Face.Bold);
        var y = top + 7.2;
        foreach (var line in lines)
        {
            scene.Text(Layer.Page, "!", box.X + 4.4, y + (FontBook.CapHeight * Type), Type, box, Face.Bold);
            y = scene.Paragraph(Layer.Page, line, new Box(box.X + 9, y, inner, height), y, Type) + 0.6;
        }

        return box.Bottom;
    }

    private static double NotCut(SheetPages pages, SheetContext context, double top)
    {
        if (context.Plan.Unplaced.Length == 0)
        {
            return top;
        }

        var y = Title(pages, context.Texts.NotCut, top);
        Column[] columns = [new(context.Texts.Count, 16, Align.Right, Face.Bold), new(context.Texts.Part, 50, Align.Left, Face.Bold), new("", pages.Body.Width - 66)];
        return Table.Draw(pages, y, columns, [.. context.Plan.Unplaced.Select(line =>
            new[] { SheetContext.Fill(context.Texts.Times, line.Count), line.PartId, line.Reason })], Size) + 3;
    }

    private static void Order(SheetPages pages, SheetContext context, WorkOrder work, double top)
    {
        var texts = context.Texts;
        var y = Title(pages, texts.LayoutsTitle, top);
        var plan = context.Plan;
        var rest = pages.Body.Width - 9 - 21 - 15 - 32 - 24 - 18;
        Column[] columns =
        [
            new("", 9), new(texts.Layouts, 21, Align.Right, Face.Bold), new(texts.Count, 15, Align.Right, Face.Bold), new(texts.Stock, rest),
            new(texts.Saw, 32), new("", 24, Align.Right), new(texts.Minutes, 18, Align.Right),
        ];
        var rows = work.Items.SelectMany(item =>
        {
            var layout = plan.Layouts.First(one => one.Number == item.Layout);
            var stock = plan.StockOf(layout);
            string[] change = ["□", "", "", SheetContext.Fill(texts.ChangeMaterial, stock.MaterialId), "", "", ""];
            string[] row =
            [
                "□", SheetContext.Text(layout.Number), SheetContext.Fill(texts.Times, layout.Count),
                $"{context.FormOf(stock)} {stock.MaterialId}, {context.SizeOf(stock)}{(layout.Kept ? " · " + texts.StaysAsPlanned : "")}", layout.SawId,
                SheetContext.Fill(texts.Pieces, layout.Pieces.Length), context.Options.Numbers.Number(item.Minutes, 1),
            ];
            return item.ChangesMaterial ? new[] { change, row } : [row];
        }).Append(["", "", "", texts.Total, "", "", context.Options.Numbers.Number(work.Minutes, 1)]).ToArray();
        Table.Draw(pages, y, columns, rows, 3.4, title: SheetContext.Fill(texts.Continued, texts.LayoutsTitle));
    }

    private static double Title(SheetPages pages, string title, double top)
    {
        if (top + 26 > pages.Body.Bottom)
        {
            top = pages.Next();
        }

        pages.Scene.Text(Layer.Page, title, pages.Body.X, top + 4, Print.Head, pages.Body, Face.Bold);
        return top + 5;
    }
}
