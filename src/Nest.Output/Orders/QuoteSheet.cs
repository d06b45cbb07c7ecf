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

/// <summary>The quote for a customer: what is made and what it costs him, for one number of sets or several. Nothing of the shop's own
/// costs, its margin, its stock or its suppliers is on it.</summary>
public static class QuoteSheet
{
    /// <summary>Prices side by side on a page; more numbers go on in another table.</summary>
    private const int Abreast = 4;

    /// <summary>Writes the quote as a PDF, whole or not at all.</summary>
    /// <param name="plan">Of the first of the quotes; the others are of the same job with other numbers of sets.</param>
    /// <param name="quotes">With their numbers of sets.</param>
    public static void Write(string path, Plan plan, IReadOnlyList<(int Sets, Quote Quote)> quotes, QuoteHead head, OutputOptions options)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        var context = new SheetContext(plan, options with { Date = head.Date });
        var paper = options.Papers.Count > 0 ? options.Papers[0] : Paper.A4;
        WholeFile.Write(path, PdfFile.Bytes(Pages(context, quotes, head, paper), plan.Job.Name, head.Date));
    }

    internal static List<Scene> Pages(SheetContext context, IReadOnlyList<(int Sets, Quote Quote)> quotes, QuoteHead head, Paper paper)
    {
        var texts = context.Texts;
        var pages = new SheetPages(context, paper);
        var first = quotes[0].Quote;
        var y = pages.Start(SheetContext.Fill(first.BlanksOnly ? texts.QuoteBlanksTitle : texts.QuoteTitle, context.Job.Name)) + 1;
        foreach (var (words, who) in new[] { (texts.QuoteFrom, head.Shop), (texts.QuoteFor, head.Customer) })
        {
            y = who.Length == 0 ? y : pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(words, who), pages.Body, y, 4, Face.Bold) + 1;
        }

        y = pages.Scene.Paragraph(
            Layer.Page, SheetContext.Fill(texts.QuoteDates, Day(head.Date), Day(head.Date.AddDays(head.ValidDays))), pages.Body, y + 1, 3.6) + 1;
        var blanks = first.Lines.Where(line => line.BlankOnly).Select(line => line.Part.Id).ToList();
        var scope = first.BlanksOnly ? texts.QuoteBlanks : blanks.Count == 0 ? texts.QuoteMachined : SheetContext.Fill(texts.QuoteSomeBlanks, string.Join(", ", blanks));
        y = pages.Scene.Paragraph(Layer.Page, scope, pages.Body, y + 1, 3.6, Face.Bold) + 3;
        if (quotes.Count == 1)
        {
            y = One(context, pages, first, y);
        }
        else
        {
            foreach (var some in quotes.Chunk(Abreast))
            {
                y = Several(context, pages, some, y) + 3;
            }
        }

        y = Sums(context, pages, quotes, y);
        if (y + 8 > pages.Body.Bottom)
        {
            y = pages.Next();
        }

        pages.Scene.Paragraph(
            Layer.Page, SheetContext.Fill(quotes.Count == 1 ? texts.QuoteTerms : texts.QuoteTermsSets, context.Job.Currency), pages.Body, y + 2, 3.4);
        return pages.Build();
    }

    private static double One(SheetContext context, SheetPages pages, Quote quote, double y)
    {
        var texts = context.Texts;
        Column[] columns =
        [
            new("", 8, Align.Right), new(texts.QuotePart, pages.Body.Width - 8 - 30 - 46 - 18 - 24 - 26, Align.Left, Face.Bold), new(texts.Material, 30),
            new(texts.QuoteFinished, 46), new(texts.QuotePieces, 18, Align.Right), new(texts.OrderEach, 24, Align.Right), new(texts.Total, 26, Align.Right),
        ];
        return Table.Draw(pages, y, columns, [.. quote.Lines.Select((line, at) => new[]
        {
            SheetContext.Text(at + 1), line.Part.Id, line.Part.MaterialId, Size(context, line.Part), SheetContext.Text(line.Pieces),
            Number(context, line.Each), Number(context, line.Total),
        })], 3.2) + 4;
    }

    private static double Several(SheetContext context, SheetPages pages, (int Sets, Quote Quote)[] quotes, double y)
    {
        var texts = context.Texts;
        const double price = 20;
        Column[] columns =
        [
            new("", 8, Align.Right), new(texts.QuotePart, pages.Body.Width - 8 - 22 - 38 - 12 - (price * quotes.Length), Align.Left, Face.Bold), new(texts.Material, 22),
            new(texts.QuoteFinished, 38), new(texts.QuotePerSet, 12, Align.Right),
            .. quotes.Select(one => new Column(SheetContext.Fill(one.Sets == 1 ? texts.QuoteOneSet : texts.QuoteSets, one.Sets), price, Align.Right)),
        ];
        return Table.Draw(pages, y, columns, [.. quotes[0].Quote.Lines.Select((line, at) => (string[])
        [
            SheetContext.Text(at + 1), line.Part.Id, line.Part.MaterialId, Size(context, line.Part), SheetContext.Text(line.Part.Quantity),
            .. quotes.Select(one => Number(context, one.Quote.Lines[at].Each)),
        ])], 3.2) + 1;
    }

    /// <summary>The total of each number, with the tax where there is one.</summary>
    private static double Sums(SheetContext context, SheetPages pages, IReadOnlyList<(int Sets, Quote Quote)> quotes, double y)
    {
        var texts = context.Texts;
        foreach (var (sets, quote) in quotes)
        {
            var label = quotes.Count == 1 ? texts.Total
                : sets == 1 ? SheetContext.Fill(texts.QuoteTotalOneSet, sets) : SheetContext.Fill(texts.QuoteTotalSets, sets, Number(context, decimal.Round(quote.Total / sets, 2)));
            Line(label, quote.Total, Face.Bold);
            if (context.Job.Tax is { } tax)
            {
                Line(OrderSheet.TaxLabel(context), tax.On(quote.Total), Face.Regular);
                Line(SheetContext.Fill(texts.TaxTotal, tax.Name), quote.Total + tax.On(quote.Total), Face.Bold);
            }
        }

        return y;

        void Line(string label, decimal amount, Face face)
        {
            if (y + 8 > pages.Body.Bottom)
            {
                y = pages.Next();
            }

            pages.Scene.Text(Layer.Page, label, pages.Body.Right - 46, y + 4, 4, pages.Body, face, Align.Right);
            pages.Scene.Text(Layer.Page, $"{context.Job.Currency} {Number(context, amount)}", pages.Body.Right - 1, y + 4, 4, pages.Body, face, Align.Right);
            y += 6;
        }
    }

    private static string Number(SheetContext context, decimal amount) => context.Options.Numbers.Number(amount, 2);

    private static string Day(DateOnly date) => date.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>The finished size, as on the drawing: not the blank's.</summary>
    private static string Size(SheetContext context, Part part) => StockSize.Finished(part, context.Length);
}
