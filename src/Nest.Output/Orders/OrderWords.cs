using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What stands on an order in words: the same on paper and in the text for the e-mail.</summary>
internal static class OrderWords
{
    private const string Blank = "____________________";

    /// <summary>The shop: name, address, contact, tax number, where to deliver; a rule to write on where the job does not tell.</summary>
    public static List<string> Sender(SheetContext context)
    {
        var texts = context.Texts;
        var shop = context.Options.Correspondence.Shop;
        var lines = new List<string> { $"{texts.OrderFrom}: {(shop.Name.Length > 0 ? shop.Name : Blank)}" };
        lines.AddRange(shop.Address);
        Add(lines, shop.Contact, shop.Contact);
        Add(lines, shop.TaxNumber, SheetContext.Fill(texts.OrderTax, shop.TaxNumber));
        if (!shop.DeliveryAddress.IsEmpty)
        {
            lines.Add($"{texts.OrderDeliverTo}: {string.Join(", ", shop.DeliveryAddress)}");
        }

        return lines;
    }

    public static List<string> Receiver(SheetContext context, Core.Plans.Order order)
    {
        var texts = context.Texts;
        var card = context.Options.Correspondence.Of(order.Supplier);
        var lines = new List<string> { $"{texts.OrderTo}: {OrderSheet.Name(context, order)}" };
        lines.AddRange(card.Address);
        Add(lines, card.Email, card.Email);
        Add(lines, card.CustomerNumber, SheetContext.Fill(texts.OrderCustomer, card.CustomerNumber));
        return lines;
    }

    /// <summary>Number of the order (the plan's mark and its place among the orders) and its day.</summary>
    public static string Number(SheetContext context, Core.Plans.Order order) =>
        $"{SheetContext.Fill(context.Texts.OrderNumber, NumberOf(context, order))} · {SheetContext.Fill(context.Texts.OrderDay, context.Options.Date is { } day ? Text(day) : "______________")}";

    public static string NumberOf(SheetContext context, Core.Plans.Order order) =>
        $"{context.Print}-{SheetContext.Text(context.Plan.Orders.IndexOf(order) + 1)}";

    /// <summary>The days that the plan counts on: the supplier's own, else when the job wants its stock.</summary>
    public static int? Days(SheetContext context, Core.Plans.Order order) =>
        context.Job.SupplierOf(order.Supplier) is { LeadDays: > 0 and var days } ? days : context.Job.WantedInDays;

    /// <summary>When it is wanted, certificates, full lengths, tolerance of what is cut to size.</summary>
    public static IEnumerable<string> Wishes(SheetContext context, Core.Plans.Order order, IReadOnlyCollection<OrderItem> items)
    {
        var texts = context.Texts;
        var card = context.Options.Correspondence.Of(order.Supplier);
        if (Days(context, order) is { } days)
        {
            var by = context.Options.Date is { } day
                ? SheetContext.Fill(days == 1 ? texts.OrderByOneDay : texts.OrderBy, days, Text(day.AddDays(days)))
                : SheetContext.Fill(days == 1 ? texts.OrderWantedOneDay : texts.OrderWanted, days);
            yield return $"{by} {texts.OrderConfirm}";
        }
        else
        {
            yield return texts.OrderConfirm;
        }

        if (card.Certificates.Length > 0)
        {
            yield return SheetContext.Fill(texts.OrderCertificates, card.Certificates);
        }

        if (card.FullLengths != false && items.Any(item => item.Stock.Form.IsBar() && item.Stock.CutFor is null))
        {
            yield return texts.OrderFullLengths;
        }

        if (items.Any(item => item.Stock.CutFor is not null))
        {
            var tolerance = context.Job.SupplierOf(order.Supplier)?.CutPlus is { } plus ? SheetContext.Fill(texts.OrderTolerance, context.Length(plus)) : texts.OrderNeverSmaller;
            yield return SheetContext.Fill(texts.OrderCutNote, tolerance);
        }
    }

    /// <summary>Size of an item, then what it is cut for and how the rolling direction must lie.</summary>
    public static IEnumerable<string> Size(SheetContext context, OrderItem item)
    {
        yield return context.SizeOf(item.Stock);
        if (item.Along is { } along)
        {
            yield return SheetContext.Fill(context.Texts.OrderRolling, context.Length(along));
        }

        if (!item.For.IsEmpty)
        {
            yield return SheetContext.Fill(context.Texts.OrderCutParts, item.Parts(context));
        }
    }

    /// <summary>Mass, rounding, currency.</summary>
    public static IEnumerable<string> Foot(SheetContext context, Core.Plans.Order order, IReadOnlyCollection<OrderItem> items, OwnAmounts own)
    {
        var texts = context.Texts;
        var mass = items.Aggregate(Core.Quantities.Mass.Zero, (sum, item) => sum + (OrderSheet.Mass(context, item.Stock) * item.Count));
        yield return SheetContext.Fill(texts.OrderMass, context.MassOf(mass));
        if (items.Any(item => item.Each * item.Count != item.Amount))
        {
            yield return texts.OrderRounded;
        }

        if (own.Rate is not null)
        {
            yield return SheetContext.Fill(texts.OrderRate, own.Currency, own.RateText, context.Amount(order.Total));
        }
    }

    /// <summary>The order as plain text, to be pasted into an e-mail: its address, its subject, then what is ordered.</summary>
    public static byte[] Mail(SheetContext context, Core.Plans.Order order)
    {
        var texts = context.Texts;
        var own = new OwnAmounts(context, order);
        var items = OrderItem.Of(context, order, own);
        var card = context.Options.Correspondence.Of(order.Supplier);
        var text = new StringBuilder();
        if (card.Email.Length > 0)
        {
            text.Append(texts.OrderTo).Append(": ").Append(card.Email).Append('\n');
        }

        text.Append(SheetContext.Fill(texts.OrderSubject, NumberOf(context, order))).Append("\n\n");
        text.Append(texts.OrderHello).Append("\n\n").Append(texts.OrderAsk).Append("\n\n");
        foreach (var (item, at) in items.Select((item, at) => (item, at)))
        {
            text.Append(CultureInfo.InvariantCulture, $"{at + 1}. {SheetContext.Fill(texts.Times, item.Count)} {context.FormOf(item.Stock)} {item.Stock.MaterialId} {string.Join("; ", Size(context, item))}");
            text.Append(item.Stock.CutFor is null ? $" ({item.Stock.Id})" : "").Append(": ").Append(own.Text(item.Amount)).Append('\n');
        }

        text.Append('\n');
        foreach (var (label, amount, _) in OrderSheet.Sums(context, order, own))
        {
            text.Append(label).Append(": ").Append(own.Text(amount)).Append('\n');
        }

        foreach (var line in Wishes(context, order, items).Concat(Foot(context, order, items, own)).Prepend("").Append("").Concat(Sender(context)))
        {
            text.Append(line).Append('\n');
        }

        return Encoding.UTF8.GetBytes(Core.Texts.PlainText.Visible(text.ToString()));
    }

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static void Add(List<string> lines, string value, string line)
    {
        if (value.Length > 0)
        {
            lines.Add(line);
        }
    }
}
