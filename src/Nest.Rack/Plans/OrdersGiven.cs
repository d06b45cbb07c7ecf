using System.Globalization;
using Nest.Core.Texts;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Values;

namespace Nest.Rack.Plans;

/// <summary>Which orders of a plan were given, kept among the rack's settings: history and undo know them so.</summary>
internal static class OrdersGiven
{
    private const int MostText = 100;
    private const string DayFormat = "yyyy-MM-dd";

    public static OrderGiven Book(ChangeSet change, OrderEntry entry, DateOnly today)
    {
        var suppliers = Suppliers(change.Db, entry.PlanId);
        var meant = suppliers.Where(name => name.StartsWith(entry.Supplier.Trim(), StringComparison.OrdinalIgnoreCase)).ToList();
        // A name that is the beginning of another one is meant as it is.
        meant = meant.Exists(name => string.Equals(name, entry.Supplier.Trim(), StringComparison.OrdinalIgnoreCase)) ? [entry.Supplier.Trim()] : meant;
        if (meant.Count != 1)
        {
            throw RackException.Refused(
                meant.Count == 0 ? $"{PlanNumber.Format(entry.PlanId)} buys nothing from '{entry.Supplier}'" : $"{PlanNumber.Format(entry.PlanId)} buys from more than one supplier",
                suppliers.Count == 0 ? "it buys nothing at all" : $"name one of {string.Join(", ", suppliers)}");
        }

        var order = new OrderGiven(
            suppliers.First(name => string.Equals(name, meant[0], StringComparison.OrdinalIgnoreCase)), entry.Day ?? today,
            PlainText.Shortened(PlainText.OneLine(entry.Confirmation.Trim()), MostText));
        RackSettings.Set(change, NameOf(entry.PlanId) + order.Supplier, $"{order.Day.ToString(DayFormat, CultureInfo.InvariantCulture)} {order.Confirmation}".TrimEnd());
        return order;
    }

    /// <summary>The orders of a plan that were given.</summary>
    public static List<OrderGiven> Of(Db db, long planId)
    {
        var begins = NameOf(planId);
        return db.Query(
            "SELECT substr(name, $1), value FROM setting WHERE substr(name, 1, $2) = $3 ORDER BY id",
            row => new OrderGiven(row.GetString(0), DateOnly.ParseExact(row.GetString(1)[..DayFormat.Length], DayFormat, CultureInfo.InvariantCulture), row.GetString(1)[DayFormat.Length..].Trim()),
            (long)begins.Length + 1, (long)begins.Length, begins);
    }

    private static List<string> Suppliers(Db db, long planId)
    {
        PlanRows.StateOf(db, planId);
        return [.. Purchases.Of(db, planId).Select(purchase => purchase.Stock.Supplier ?? "").Distinct(StringComparer.OrdinalIgnoreCase)];
    }

    private static string NameOf(long planId) => $"order {PlanNumber.Format(planId)} ";
}
