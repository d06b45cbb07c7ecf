using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Stocks;
using Nest.Data.Tables;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>Reads the top of a job file: everything that is one value.</summary>
internal static class JobHeadReader
{
    /// <param name="path">The job file, whose folder names the job where it does not say its name.</param>
    /// <param name="said">What the user says of the tables, before what the job file says.</param>
    public static JobHead Read(TomlTable root, TomlContext context, string path, TableChoices said, FindingList findings)
    {
        var unit = root.Word<LengthUnit>("unit", word => Words.Fold(word) switch
        {
            "mm" or "millimetre" or "millimeter" => LengthUnit.Millimetre,
            "in" or "inch" or "inches" => LengthUnit.Inch,
            _ => null,
        }, "\"mm\" or \"in\"") ?? LengthUnit.Millimetre;
        context.Unit = unit;
        var mark = root.Word<char>("decimal_mark", word => word is "." or "," ? word[0] : null, "\".\" or \",\"");
        var fraction = root.Whole("inch_fraction", 0, 64) ?? 0;
        if (fraction is not (0 or 2 or 4 or 8 or 16 or 32 or 64))
        {
            root.Error("inch_fraction", "inch-fraction", $"inch_fraction is {fraction}", "write 2, 4, 8, 16, 32 or 64, or 0 for decimals");
        }

        var currency = root.Text("currency") ?? (unit == LengthUnit.Inch ? "USD" : "EUR");
        if (currency.Length != 3 || !currency.All(char.IsAsciiLetterUpper))
        {
            root.Error("currency", "currency-unknown", $"currency is '{currency}'", "write its three capital letters, such as \"EUR\"");
        }

        var limits = root.Table("limits");
        var tax = root.Table("tax");
        if (tax is not null && !tax.Has("percent"))
        {
            tax.Error("percent", "key-missing", "the tax has no percent", "add percent = 19, or leave [tax] out");
        }

        var head = new JobHead
        {
            Name = root.Label("name") is { Length: > 0 } name ? name : Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(path))) ?? "job",
            Currency = currency,
            Unit = unit,
            InchFraction = fraction,
            Tables = said with
            {
                DecimalMark = said.DecimalMark ?? mark,
                Sheet = said.Sheet ?? root.Text("sheet"),
                Columns = TableChoices.Over(said.Columns, KnownColumns.Read(root, findings)),
                Materials = TableChoices.Over(said.Materials, ShopNames.NamesOf(root, "material_names")),
            },
            NamesUnit = true, // a job file has its unit from the setting, or by default millimetres
            Batch = root.Whole("batch", 1, 100_000) ?? 1,
            MostSuppliers = root.Whole("most_suppliers", 1, 1000),
            WantedInDays = root.Whole("wanted_in_days", 0, 3650),
            Tax = tax?.Number("percent", 0m, 100m) is { } percent ? new(percent, tax.Text("name") is { Length: > 0 } called ? called : "tax") : null,
            Seconds = (double?)limits?.Number("seconds", 0.1m, 86_400m),
            Seed = limits?.Whole("seed", 0, int.MaxValue),
            Paper = root.Word<char>("paper", word => Words.Fold(word) switch { "a4" => 'a', "letter" => 'l', _ => null }, "\"a4\" or \"letter\"") switch
            {
                null => null,
                'a' => "a4",
                _ => "letter",
            },
            Desk = CardReader.Desk(root.Table("shop")),
            Shop = CardReader.Shop(root.Table("shop")),
        };
        limits?.NoOtherKeys();
        tax?.NoOtherKeys();
        return head;
    }
}
