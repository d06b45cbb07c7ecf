using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;

namespace Nest.Desk.Model;

/// <summary>An order in words.</summary>
internal static class OrderView
{
    /// <summary>Longer addresses are cut off by some e-mail programs.</summary>
    private const int MostAddress = 1900;

    public static string What(Plan plan, OrderLine line)
    {
        var stock = plan.Job.Stocks.First(one => one.Id == line.StockId);
        var size = StockSize.Text(stock, LengthFormat.For(plan.Job.Unit, plan.Job.InchFraction));
        return $"{stock.MaterialId} {size}{(stock.CutFor is { } part ? $", cut to size for {part}" : "")} ({stock.Id})";
    }

    public static IEnumerable<(string Name, string Amount)> Sums(Order order)
    {
        yield return ("Goods", Amount(order.Goods));
        if (order.TopUp > Money.Zero)
        {
            yield return ("Up to the smallest order", Amount(order.TopUp));
        }

        if (order.Delivery > Money.Zero)
        {
            yield return ("Delivery", Amount(order.Delivery));
        }

        yield return ("To pay", Amount(order.Total));
    }

    /// <summary>The files of an order in the folder of its plan.</summary>
    /// <param name="at">Its place among the plan's orders, from 0.</param>
    public static IReadOnlyList<string> Files(JobFolder folder, int at) =>
        [.. WrittenFiles.In(folder.Output).Where(name => name.StartsWith(string.Create(CultureInfo.InvariantCulture, $"orders/{at + 1:00}-"), StringComparison.Ordinal))];

    public static string Kind(string file) => Path.GetExtension(file) switch
    {
        ".pdf" => "Order to print (PDF)",
        ".csv" => "Order as a table (CSV)",
        _ => "Text for an e-mail",
    };

    /// <summary>An address that opens the shop's own e-mail program with the order in it; null: there is no text, or it is too long for an address.</summary>
    public static string? Mail(JobFolder folder, IReadOnlyList<string> files)
    {
        if (files.FirstOrDefault(file => Path.GetExtension(file) == ".txt") is not { } file || File.ReadAllText(Path.Combine(folder.Output, file)).Split('\n', 3) is not { Length: 3 } lines)
        {
            return null;
        }

        // With an address its line comes first; then the subject, an empty line, and the text.
        var (to, rest) = lines[0].Contains('@', StringComparison.Ordinal) ? (lines[0][(lines[0].IndexOf(':', StringComparison.Ordinal) + 1)..].Trim(), string.Join('\n', lines[1..])) : ("", string.Join('\n', lines));
        var (subject, body) = rest.IndexOf('\n', StringComparison.Ordinal) is > 0 and var end ? (rest[..end], rest[end..].TrimStart('\n')) : (rest, "");
        subject = subject.IndexOf(": ", StringComparison.Ordinal) is > 0 and var colon ? subject[(colon + 2)..] : subject;
        var address = $"mailto:{Uri.EscapeDataString(to).Replace("%40", "@", StringComparison.Ordinal)}?subject={Uri.EscapeDataString(subject)}&body={Uri.EscapeDataString(body.Replace("\n", "\r\n", StringComparison.Ordinal))}";
        return address.Length <= MostAddress ? address : null;
    }

    public static string Amount(Money money) => money.Amount.ToString("0.00", CultureInfo.InvariantCulture);
}
