using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Toml;

namespace Nest.Data.Stocks;

/// <summary>A supplier as it was read, with its price lists.</summary>
/// <param name="Rate">What one unit of its currency is in the job's.</param>
internal sealed record SupplierEntry(Supplier Terms, SupplierCard Card, decimal Rate, IReadOnlyList<(string Text, SourcePosition At)> PriceLists, SourcePosition Where);

/// <summary>Reads suppliers: a [[supplier]] table each.</summary>
internal static class SuppliersReader
{
    private const decimal Dearest = 10_000_000m;

    /// <param name="rates">Currency → what one of it is in the job's currency.</param>
    public static void Read(TomlTable root, string currency, IReadOnlyDictionary<string, decimal> rates, List<SupplierEntry> suppliers)
    {
        foreach (var table in root.Tables("supplier"))
        {
            if (ReadOne(table, currency, rates) is not { } entry)
            {
                continue;
            }

            if (suppliers.Find(known => string.Equals(known.Terms.Name, entry.Terms.Name, StringComparison.OrdinalIgnoreCase)) is { } first)
            {
                table.Error("name", "supplier-twice", $"the supplier '{entry.Terms.Name}' is already at {first.Where}", "give all its terms in one place");
                continue;
            }

            suppliers.Add(entry);
        }
    }

    /// <summary>The section [rates]: what one unit of a currency is in the job's.</summary>
    public static Dictionary<string, decimal> Rates(TomlTable root)
    {
        var rates = new Dictionary<string, decimal>(StringComparer.OrdinalIgnoreCase);
        if (root.Table("rates") is not { } table)
        {
            return rates;
        }

        foreach (var (key, number) in table.Numbers(0.000_001m, 1_000_000m))
        {
            if (key.Length != 3 || !key.All(char.IsAsciiLetter))
            {
                table.Error(key, "currency-unknown", $"'{key}' is no currency", "write its three letters, as USD = 0.92");
                continue;
            }

            rates[key] = number;
        }

        return rates;
    }

    private static SupplierEntry? ReadOne(TomlTable table, string currency, IReadOnlyDictionary<string, decimal> rates)
    {
        var name = table.Label("name")?.Trim() ?? "";
        if (name.Length == 0)
        {
            table.Error("name", "key-missing", "the supplier has no name", "add name = \"...\" to it");
        }

        var own = table.Text("currency") ?? currency;
        var rate = 1m;
        var foreign = !string.Equals(own, currency, StringComparison.OrdinalIgnoreCase);
        if (foreign && !rates.TryGetValue(own, out rate))
        {
            table.Error("currency", "rate-missing", $"there is no rate for {own}", $"add {own} = ... to [rates]: what one {own} is in {currency}");
        }

        var delivery = Amount(table, "delivery", rate);
        var free = table.Has("free_delivery_from") ? Amount(table, "free_delivery_from", rate) : (Money?)null;
        if (free is not null && delivery == Money.Zero && !table.Failed)
        {
            table.Error("free_delivery_from", "delivery-missing", "delivery becomes free, but it costs nothing", "add delivery = ..., or leave free_delivery_from out");
        }

        var supplier = new Supplier
        {
            Name = name,
            MinimumOrder = Amount(table, "minimum_order", rate),
            Delivery = delivery,
            FreeDeliveryFrom = free,
            LeadDays = table.Whole("lead_days", 0, 3650) ?? 0,
            CutPieceCharge = Amount(table, "cut_piece_charge", rate),
            CutPlus = table.Length("cut_plus"),
            GivesCertificates = table.Flag("gives_certificates") ?? false,
            Currency = foreign ? own.ToUpperInvariant() : null,
            Rate = foreign ? rate : null,
        };
        var card = CardReader.Supplier(table, name);
        var lists = table.Texts("price_list");
        table.NoOtherKeys();
        return table.Failed ? null : new(supplier, card, rate, lists, table.Where);
    }

    private static Money Amount(TomlTable table, string key, decimal rate) =>
        Money.FromAmount((table.Number(key, 0m, Dearest) ?? 0m) * (rate == 0m ? 1m : rate));
}
