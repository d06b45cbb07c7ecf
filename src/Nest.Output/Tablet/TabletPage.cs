using System.Globalization;
using System.Text;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Sheets;
using Nest.Output.Texts;

namespace Nest.Output.Tablet;

/// <summary>The cut sheet as one page for tablet or phone at the saw: one step a screen, counted; a list of all as second view.</summary>
/// <remarks>One page and one script with two stores. As a file all is inside and the counts stay in the browser, under the plan's mark.
/// Served by the desk, style and script are the desk's files (its policy allows no other), and the counts are the desk's.</remarks>
internal sealed class TabletPage
{
    private readonly SheetContext _context;
    private readonly WorkOrder _work;
    private readonly TabletServed? _served;
    private readonly StringBuilder _html = new();

    private TabletPage(SheetContext context, WorkOrder work, TabletServed? served) => (_context, _work, _served) = (context, work, served);

    /// <param name="served">Where the desk serves it; null: a file of its own.</param>
    public static byte[] Bytes(SheetContext context, WorkOrder work, TabletServed? served = null) => new TabletPage(context, work, served).Make();

    private byte[] Make()
    {
        Head();
        var steps = new TabletSteps(_context);
        var (rack, delivery) = Cautions.Lines(_context.Plan);
        Group("read", _context.Texts.Cautions, "", "", 0, "", steps.Cautions());
        Group("rack", _context.Texts.Fetch, "", "", 0, "", steps.Stock(rack, "rack"));
        Group("delivery", _context.Texts.Delivery, "", "", 0, "", steps.Stock(delivery, "delivery"));
        var items = _work.Items.ToArray();
        for (var at = 0; at < items.Length; at++)
        {
            Layout(steps, items[at], _context.HeadOf(items[at].Layout, at + 1, items.Length));
        }

        Foot();
        return Encoding.UTF8.GetBytes(_html.ToString());
    }

    private void Head()
    {
        var texts = _context.Texts;
        _html.Append(CultureInfo.InvariantCulture, $"<!DOCTYPE html>\n<html lang=\"{E(texts.Language)}\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        _html.Append(_served is null
            ? $"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'\">\n<style>\n{TabletServed.Resource("tablet.css")}</style>\n"
            : $"<link rel=\"stylesheet\" href=\"{E(_served.Style)}\">\n<link rel=\"icon\" href=\"data:,\">\n");
        _html.Append(CultureInfo.InvariantCulture, $"<title>{E(_context.Job.Name)}</title>\n</head>\n<body data-plan=\"{_context.Print}\"{(_served is null ? "" : $" data-desk=\"{E(_served.Counts)}\"")}");
        foreach (var (name, text) in Words(texts))
        {
            _html.Append(CultureInfo.InvariantCulture, $" data-{name}=\"{E(text)}\"");
        }

        _html.Append(
            CultureInfo.InvariantCulture, $">\n<header id=\"top\"><button type=\"button\" id=\"view\" hidden></button><p id=\"where\"><b>{E(_context.Job.Name)}</b> <span class=\"print\">{E(SheetContext.Fill(texts.Plan, _context.Print) + Day())}</span></p><p id=\"time\"></p></header>\n"
            + $"<p id=\"tell\" role=\"status\" hidden><span></span> <button type=\"button\" id=\"undo\" hidden>{E(texts.TabletUndo)}</button></p>\n"
            + $"<main>\n<h1 class=\"unseen\">{E(_context.Job.Name)}</h1>\n");
    }

    private static (string Name, string Text)[] Words(SheetTexts texts) =>
    [
        ("list", texts.TabletList), ("one", texts.TabletOne), ("step", texts.TabletStepOf), ("open", texts.TabletFirstOpen), ("piece", texts.TabletPieceOf),
        ("done", texts.TabletLayoutDone), ("spent", texts.TabletTime), ("cleared", texts.TabletCleared), ("ticked", texts.TabletAllTicked), ("waiting", texts.TabletWaiting), ("out", texts.TabletOut),
        ("finished", texts.TabletAllDone), ("minutes", texts.DurationMinutes), ("hours", texts.DurationHours), ("count", texts.TabletCounted),
    ];

    private void Layout(TabletSteps steps, WorkItem item, string head)
    {
        var layout = _context.Plan.Layouts.First(one => one.Number == item.Layout);
        var stock = _context.Plan.StockOf(layout);
        var facts = $"{_context.FormOf(stock)} {stock.MaterialId}, {_context.SizeOf(stock)} · {layout.SawId} · {stock.RackMark ?? stock.Id}{(layout.Kept ? " · " + _context.Texts.StaysAsPlanned : "")}";
        var picture = TabletPicture.Svg(_context, layout, item.Sequence, $"{head}, {facts}");
        var form = stock.Form.IsBar() ? _context.Texts.TabletBar : item.StackedPieces > 1 ? _context.Texts.TabletStack : _context.Texts.TabletPlate;
        Group($"layout-{layout.Number}", head, layout.Count > 1 ? _context.CountOf(layout) + (item.StackedPieces > 1 ? ". " + SheetContext.Fill(_context.Texts.Stacked, item.StackedPieces) : "") : "", facts, item.Minutes, picture, steps.Of(item), form);
    }

    private void Group(string id, string head, string alike, string facts, decimal minutes, string picture, IEnumerable<TabletStep> steps, string form = "")
    {
        var all = steps.ToArray();
        if (all.Length == 0)
        {
            return;
        }

        _html.Append(CultureInfo.InvariantCulture, $"<section class=\"group\" id=\"{id}\" data-minutes=\"{minutes:0.##}\" data-form=\"{E(form)}\">\n<h2><button type=\"button\" class=\"head\"><span class=\"name\">{E(head)}</span>");
        foreach (var (kind, text) in new[] { ("alike", alike), ("facts", facts) }.Where(one => one.Item2.Length > 0))
        {
            _html.Append(CultureInfo.InvariantCulture, $" <span class=\"{kind}\">{E(text)}</span>");
        }

        _html.Append(" <span class=\"state\"></span></button></h2>\n");
        _html.Append(picture.Length > 0 ? $"<div class=\"pic\">{picture}<button type=\"button\" class=\"zoom\" aria-pressed=\"false\" hidden>{E(_context.Texts.TabletLarger)}</button></div>\n" : "");
        foreach (var step in all)
        {
            step.Write(_html);
        }

        _html.Append(_served is not null && picture.Length > 0 ? $"<p class=\"miscut\"><a href=\"{E(_served.Miscut)}/{id["layout-".Length..]}\">{E(_context.Texts.TabletMiscut)}</a></p>\n" : "");

        _html.Append("</section>\n");
    }

    private void Foot()
    {
        var texts = _context.Texts;
        _html.Append(
            CultureInfo.InvariantCulture, $"</main>\n<footer hidden>\n<div id=\"counter\"><button type=\"button\" id=\"less\" aria-label=\"−1\">−1</button><p id=\"count\" role=\"status\"></p>"
            + $"<button type=\"button\" id=\"all\">{E(texts.TabletAll)}</button><button type=\"button\" id=\"more\" aria-label=\"+1\">+1</button></div>\n");
        _html.Append(
            CultureInfo.InvariantCulture, $"<nav><button type=\"button\" id=\"back\">← {E(texts.TabletPrev)}</button><button type=\"button\" id=\"first\"></button><button type=\"button\" id=\"next\">{E(texts.TabletNext)} →</button></nav>\n"
            + $"<p id=\"clearing\"><button type=\"button\" id=\"clear\"{(_served is null ? "" : " hidden")}>{E(texts.TabletReset)}</button> {E(_served is null ? texts.TabletHint : texts.TabletHintDesk)}</p>\n</footer>\n");
        _html.Append(_served is null ? $"<script>\n{TabletServed.Resource("tablet.js")}</script>\n" : $"<script src=\"{E(_served.Script)}\"></script>\n");
        _html.Append("</body>\n</html>\n");
    }

    private string Day() =>
        _context.Options.Date is { } day ? " · " + day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : "";

    private static string E(string text) => TabletStep.E(text);
}
