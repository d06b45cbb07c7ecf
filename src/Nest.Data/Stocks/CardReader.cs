using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Data.Toml;

namespace Nest.Data.Stocks;

/// <summary>Reads what orders need beside the plan: the section [shop], and addresses and wishes in a [[supplier]].</summary>
internal static class CardReader
{
    /// <summary>Where the shop's desk answers phones and tablets; empty: not said. Read before <see cref="Shop"/>, which tells keys that nobody asked for.</summary>
    public static string Desk(TomlTable? table)
    {
        var address = table is null ? "" : Line(table, "desk");
        if (address.Length > 0 && !(Uri.TryCreate(address, UriKind.Absolute, out var desk) && desk.Scheme is "http" or "https"))
        {
            table!.Error("desk", "address-unreadable", $"shop.desk is '{address}'", "write where the desk answers phones, as \"http://192.168.1.20:8443\" (nest desk --share --share-port 8443)");
        }

        return address;
    }

    public static ShopCard Shop(TomlTable? table)
    {
        if (table is null)
        {
            return new();
        }

        var card = new ShopCard
        {
            Name = Line(table, "name"),
            Address = Lines(table, "address"),
            DeliveryAddress = Lines(table, "delivery_address"),
            Contact = Line(table, "contact"),
            TaxNumber = Line(table, "tax_number"),
        };
        table.NoOtherKeys();
        return card;
    }

    public static SupplierCard Supplier(TomlTable table, string name) => new()
    {
        Supplier = name,
        Address = Lines(table, "address"),
        Email = Line(table, "email"),
        CustomerNumber = Line(table, "customer_number"),
        Certificates = Line(table, "certificates"),
        FullLengths = table.Flag("full_lengths"),
        PricesOf = Day(table, "prices_of"),
        PricesGoodForDays = table.Whole("prices_good_for_days", 0, 3650) ?? 30,
    };

    private static DateOnly? Day(TomlTable table, string key)
    {
        if (table.Text(key) is not { } text)
        {
            return null;
        }

        if (DateOnly.TryParseExact(text.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return day;
        }

        table.Error(key, "date-unreadable", $"{key} is '{text}'", "write the day as \"2026-03-02\"");
        return null;
    }

    private static string Line(TomlTable table, string key) => table.Text(key)?.Trim() ?? "";

    private static ImmutableArray<string> Lines(TomlTable table, string key) =>
        [.. table.Texts(key).SelectMany(text => text.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))];
}
