using System.Globalization;
using System.Text;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Draw;
using Nest.Output.Pictures;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Tablet;

/// <summary>The cut sheet as one HTML file for the tablet at the saw: no network, ticks kept on the device under the plan's mark.</summary>
internal static class TabletPage
{
    public static byte[] Bytes(SheetContext context, WorkOrder work)
    {
        var texts = context.Texts;
        var html = new StringBuilder();
        html.Append("<!DOCTYPE html>\n<html lang=\"").Append(E(texts.Language)).Append("\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        html.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'\">\n");
        html.Append(CultureInfo.InvariantCulture, $"<title>{E(context.Job.Name)}</title>\n<style>\n{Resource("tablet.css")}</style>\n</head>\n<body data-plan=\"{context.Print}\">\n");
        html.Append(CultureInfo.InvariantCulture, $"<header id=\"top\"><h1>{E(context.Job.Name)}</h1><p class=\"print\">{E(SheetContext.Fill(texts.Plan, context.Print) + Day(context))}</p><p>{E(texts.TabletHint)}</p></header>\n<main>\n");
        Overview(html, context, work);
        var items = work.Items.ToArray();
        for (var at = 0; at < items.Length; at++)
        {
            Layout(html, context, items[at], context.HeadOf(items[at].Layout, at + 1, items.Length));
        }

        Offcuts(html, context);
        html.Append(CultureInfo.InvariantCulture, $"</main>\n<nav><a href=\"#top\">{E(texts.TabletOverview)}</a><span id=\"count\" data-text=\"{E(texts.TabletDone)}\"></span><button class=\"go\" id=\"next\" type=\"button\">{E(texts.TabletNextOpen)}</button><button id=\"reset\" type=\"button\" data-sure=\"{E(texts.TabletResetSure)}\">{E(texts.TabletReset)}</button></nav>\n");
        html.Append(CultureInfo.InvariantCulture, $"<script>\n{Resource("tablet.js")}</script>\n</body>\n</html>\n");
        return Encoding.UTF8.GetBytes(html.ToString());
    }

    private static void Overview(StringBuilder html, SheetContext context, WorkOrder work)
    {
        var texts = context.Texts;
        var (rack, delivery) = Cautions.Lines(context.Plan);
        Stock(html, context, texts.Fetch, rack, "rack");
        Stock(html, context, texts.Delivery, delivery, "delivery");
        html.Append(CultureInfo.InvariantCulture, $"<div class=\"card\"><h2>{E(texts.Cautions)}</h2><ul>");
        foreach (var line in Cautions.Of(context))
        {
            html.Append(CultureInfo.InvariantCulture, $"<li>{E(line)}</li>");
        }

        html.Append(CultureInfo.InvariantCulture, $"</ul></div>\n<div class=\"card\"><h2>{E(texts.LayoutsTitle)}</h2><table>");
        foreach (var item in work.Items)
        {
            var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
            var stock = context.Plan.StockOf(layout);
            html.Append(CultureInfo.InvariantCulture, $"<tr><td><a href=\"#layout-{item.Layout}\">{E(SheetContext.Fill(texts.Layout, item.Layout))}</a></td><td>{E(SheetContext.Fill(texts.Times, item.Count))}</td><td>{E($"{context.FormOf(stock)} {stock.MaterialId}, {context.SizeOf(stock)}")}</td><td>{E(FrontPage.Duration(texts, item.Minutes))}</td></tr>");
        }

        html.Append("</table></div>\n");
    }

    private static void Stock(StringBuilder html, SheetContext context, string title, List<BuyLine> lines, string id)
    {
        if (lines.Count == 0)
        {
            return;
        }

        html.Append(CultureInfo.InvariantCulture, $"<div class=\"card\"><h2>{E(title)}</h2>\n");
        for (var at = 0; at < lines.Count; at++)
        {
            var line = lines[at];
            var stock = line.Stock;
            var name = stock.IsLeftover ? stock.RackMark + (stock.Place is null ? "" : $" ({stock.Place})") : stock.Id;
            var lift = line.Mass > context.Job.LiftLimit ? $" <span class=\"lift\">▲ {E(context.Texts.Lift)}</span>" : "";
            var far = Cautions.IsLong(context.Job, stock) ? $" <span class=\"lift\">{E(context.Texts.LongBar)}</span>" : "";
            Step(html, $"{id}-{at}", [SheetContext.Fill(context.Texts.Times, line.Count)], false,
                $"<div class=\"set\">{E(SheetContext.Fill(context.Texts.Times, line.Count))} {E(name)}</div><div>{E($"{context.FormOf(stock)} {stock.MaterialId}, {context.SizeOf(stock)}")} · {E(context.MassOf(line.Mass))}{lift}{far}</div>");
        }

        html.Append("</div>\n");
    }

    private static void Layout(StringBuilder html, SheetContext context, WorkItem item, string head)
    {
        var texts = context.Texts;
        var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
        var stock = context.Plan.StockOf(layout);
        var count = context.CountOf(layout);
        html.Append(CultureInfo.InvariantCulture, $"<section class=\"card\" id=\"layout-{layout.Number}\"><h2>{E(head)} <span class=\"alike\">{E(count)}</span></h2>\n");
        html.Append(CultureInfo.InvariantCulture, $"<p class=\"facts\">{E($"{context.FormOf(stock)} {stock.MaterialId}, {context.SizeOf(stock)} · {layout.SawId} · {stock.RackMark ?? stock.Id}")}</p>\n");
        if (item.ChangesMaterial)
        {
            Step(html, $"l{layout.Number}-change", ["!"], false, $"<div class=\"note\">{E(SheetContext.Fill(texts.ChangeMaterial, stock.MaterialId))}</div>");
        }

        foreach (var scene in LayoutPicture.Pages(context, layout, item.Sequence))
        {
            html.Append(CultureInfo.InvariantCulture, $"<div class=\"pic\">{SvgFile.Text(Cropped(scene), false)}</div>\n");
        }

        var words = new StepText(context, layout, item.StillFrom);
        foreach (var row in StepRow.Of(item.Sequence))
        {
            var first = row.First;
            var what = new StringBuilder();
            what.Append(CultureInfo.InvariantCulture, $"<div><span class=\"dir\">{E(words.Direction(first))}</span>{(row.Steps.Count > 1 ? " " + E(SheetContext.Fill(texts.Times, row.Steps.Count)) : "")} · {E(words.OnSaw(row))}</div>");
            var handling = words.Handling(first);
            what.Append(handling.Length > 0 ? $"<div class=\"note\">{E(handling)}</div>" : "");
            what.Append(CultureInfo.InvariantCulture, $"<div class=\"set\">{E(words.Setting(first))}</div><div{(words.IsSet(first) || first.Marked ? " class=\"note\"" : "")}>{E(words.SettingNote(first))}</div><div>{E(words.Against(first))}</div>");
            foreach (var caution in words.Cautions(first))
            {
                what.Append(CultureInfo.InvariantCulture, $"<div class=\"note\">{E(caution)}</div>");
            }

            what.Append("<ul class=\"off\">");
            foreach (var line in words.Off(row))
            {
                what.Append(CultureInfo.InvariantCulture, $"<li>{E(line)}</li>");
            }

            what.Append("</ul>");
            Step(html, $"l{layout.Number}-{first.Number}", [.. row.Steps.Select(step => SheetContext.Text(step.Number))], words.IsSet(first), what.ToString());
        }

        var angled = new AngledText(context);
        foreach (var cut in item.Sequence.AngledCuts)
        {
            Step(html, $"l{layout.Number}-{cut.Number}", [.. Enumerable.Range(1, cut.Pieces).Select(SheetContext.Text)], cut.NewSetting,
                $"<div><span class=\"dir\">{E(angled.Saw(cut))}</span> · {E(angled.Part(cut))}</div><div class=\"set\">{E(angled.Measure(cut))}</div><div{(cut.NewSetting ? " class=\"note\"" : "")}>{E(angled.Setting(cut))}</div><div>{E(angled.End(cut))} · {E(angled.Against(cut))}</div>");
        }

        foreach (var outline in item.Sequence.Outlines)
        {
            var piece = layout.Pieces[outline.Index];
            Step(html, $"l{layout.Number}-{outline.Number}", [SheetContext.Text(outline.Number)], false,
                $"<div class=\"set\">{E(SheetContext.Fill(texts.PartNumber, context.Number(piece.PartId)))} {E(piece.PartId)}</div><div>{E(context.SizeOf(piece, stock))} · {E(SheetContext.Fill(texts.PositionOf, context.Length(outline.Area.X - layout.MeasuredFrom.X), context.Length(outline.Area.Y - layout.MeasuredFrom.Y)))}</div>");
        }

        html.Append("</section>\n");
    }

    private static void Offcuts(StringBuilder html, SheetContext context)
    {
        html.Append(CultureInfo.InvariantCulture, $"<section class=\"card\"><h2>{E(context.Texts.OffcutsTitle)}</h2>\n");
        var any = false;
        foreach (var layout in context.Plan.Layouts)
        {
            var stock = context.Plan.StockOf(layout);
            foreach (var (mark, offcut, _) in SheetContext.Kept(layout))
            {
                any = true;
                Step(html, $"o{mark}", [.. Enumerable.Range(1, Math.Min(layout.Count, 12)).Select(SheetContext.Text)], false,
                    $"<div class=\"set\">{E(SheetContext.Fill(context.Texts.Keep, mark))}</div><div>{E(SheetContext.Fill(context.Texts.Times, layout.Count))} {E(context.FormOf(stock))} {E(stock.MaterialId)}, {E(OffcutSheet.SizeOf(context, stock, offcut.Area))}</div>");
            }
        }

        html.Append(any ? "</section>\n" : $"<p>{E(context.Texts.OffcutsNone)}</p></section>\n");
    }

    /// <summary>Without the blank foot of its page: a bar's picture is a third of one.</summary>
    private static Scene Cropped(Scene scene)
    {
        var bottom = scene.Elements.Max(element => element switch
        {
            BoxElement box => box.Box.Bottom,
            CircleElement circle => circle.Y + circle.Radius,
            LinesElement lines => lines.Segments.Count == 0 ? 0 : lines.Segments.Max(line => Math.Max(line.Y1, line.Y2)),
            TextElement text => text.Bounds.Bottom,
            _ => scene.Height,
        });
        return scene with { Height = Math.Min(scene.Height, Math.Ceiling(bottom) + 2) };
    }

    /// <summary>A row with one large box per tick.</summary>
    private static void Step(StringBuilder html, string id, IReadOnlyList<string> marks, bool fresh, string what)
    {
        html.Append(CultureInfo.InvariantCulture, $"<div class=\"step{(fresh ? " new" : "")}\"><div class=\"ticks\">");
        for (var at = 0; at < marks.Count; at++)
        {
            html.Append(CultureInfo.InvariantCulture, $"<label class=\"tick{(marks.Count == 1 ? " wide" : "")}\"><input type=\"checkbox\" id=\"{id}-{at}\" aria-label=\"{E(marks[at])}\"><span>{E(marks[at])}</span></label>");
        }

        html.Append(CultureInfo.InvariantCulture, $"</div><div class=\"what\">{what}</div></div>\n");
    }

    private static string Day(SheetContext context) =>
        context.Options.Date is { } day ? " · " + day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "";

    private static string E(string text) => SvgFile.Escape(Core.Texts.PlainText.Shortened(text, 300));

    private static string Resource(string name)
    {
        using var stream = typeof(TabletPage).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not embedded.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd().Replace("\r\n", "\n", StringComparison.Ordinal);
    }
}
