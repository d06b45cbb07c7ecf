using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Draw;
using Nest.Output.Files;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What stands on a quote beside the prices.</summary>
/// <param name="Shop">Who quotes; empty: the line is left out.</param>
/// <param name="Customer">Who for; empty: the line is left out.</param>
/// <param name="Date">Of the quote.</param>
/// <param name="ValidDays">How many days the prices hold from that date.</param>
public sealed record QuoteHead(string Shop, string Customer, DateOnly Date, int ValidDays);

/// <summary>The quote for a customer: what is made and what it costs him. Nothing of the shop's own costs, its margin, its stock or its
/// suppliers is on it.</summary>
public static class QuoteSheet
{
    /// <summary>Writes the quote as a PDF, whole or not at all.</summary>
    public static void Write(string path, Plan plan, Quote quote, QuoteHead head, OutputOptions options)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        var context = new SheetContext(plan, options with { Date = head.Date });
        var paper = options.Papers.Count > 0 ? options.Papers[0] : Paper.A4;
        WholeFile.Write(path, PdfFile.Bytes(Pages(context, quote, head, paper), plan.Job.Name, head.Date));
    }

    internal static List<Scene> Pages(SheetContext context, Quote quote, QuoteHead head, Paper paper)
    {
        var texts = context.Texts;
        var pages = new SheetPages(context, paper);
        var y = pages.Start(SheetContext.Fill(texts.QuoteTitle, context.Job.Name)) + 1;
        foreach (var (words, who) in new[] { (texts.QuoteFrom, head.Shop), (texts.QuoteFor, head.Customer) })
        {
            y = who.Length == 0 ? y : pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(words, who), pages.Body, y, 4, Face.Bold) + 1;
        }

        y = pages.Scene.Paragraph(
            Layer.Page, SheetContext.Fill(texts.QuoteDates, Day(head.Date), Day(head.Date.AddDays(head.ValidDays))), pages.Body, y + 1, 3.6) + 3;
        Column[] columns =
        [
            new("", 8, Align.Right), new(texts.QuotePart, pages.Body.Width - 8 - 30 - 46 - 18 - 24 - 26, Align.Left, Face.Bold), new(texts.Material, 30), new(texts.Size, 46),
            new(texts.QuotePieces, 18, Align.Right), new(texts.OrderEach, 24, Align.Right), new(texts.Total, 26, Align.Right),
        ];
        y = Table.Draw(pages, y, columns, [.. quote.Lines.Select((line, at) => new[]
        {
            SheetContext.Text(at + 1), line.Part.Id, line.Part.MaterialId, Size(context, line.Part), SheetContext.Text(line.Pieces),
            context.Options.Numbers.Number(line.Each, 2), context.Options.Numbers.Number(line.Total, 2),
        })], 3.2) + 4;
        if (y + 24 > pages.Body.Bottom)
        {
            y = pages.Next();
        }

        var total = $"{context.Job.Currency} {context.Options.Numbers.Number(quote.Total, 2)}";
        pages.Scene.Text(Layer.Page, texts.Total, pages.Body.Right - 46, y + 4, 4.4, pages.Body, Face.Bold, Align.Right);
        pages.Scene.Text(Layer.Page, total, pages.Body.Right - 1, y + 4, 4.4, pages.Body, Face.Bold, Align.Right);
        pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(texts.QuoteTerms, context.Job.Currency), pages.Body, y + 9, 3.4);
        return pages.Build();
    }

    private static string Day(DateOnly date) => date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The finished size, as on the drawing: not the blank's.</summary>
    private static string Size(SheetContext context, Part part) => part.Round
        ? $"Ø {context.Length(part.Width, false)} × {context.Length(part.Length)}"
        : $"{context.Length(part.Length, false)} × {context.Length(part.Width, false)} × {context.Length(part.Thickness)}";
}
