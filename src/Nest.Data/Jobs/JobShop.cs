using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Stocks;
using Nest.Data.Tables;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>The shop that a job is for, from the files that the job names and the embedded defaults: materials, saws, suppliers, what can be bought.</summary>
internal sealed class JobShop(FilesBeside files, FindingList findings)
{
    private const string StarterWord = "starter";

    private readonly List<Saw> saws = [];
    private readonly List<SupplierEntry> suppliers = [];

    public FilesBeside Files => files;

    public MaterialBook Book { get; } = new();

    public StockList Stocks { get; } = new();

    public IReadOnlyList<Saw> Saws => saws;

    public IReadOnlyList<SupplierEntry> Suppliers => suppliers;

    /// <summary>All but rack and parts: materials, rules, saws, suppliers, what can be bought.</summary>
    public ShopRules Read(TomlTable root, JobHead head, Reads reads)
    {
        Starter.ReadMaterials(Book, findings);
        foreach (var file in root.Texts("materials"))
        {
            files.WithPath(file, "a materials file", at => MaterialsReader.ReadFile(at, reads, head.OtherTables, Book, findings));
        }

        var rules = ShopRules.Read(root, ShopRules.OfStarter(head.Unit, Book, findings), Book, head.Unit);
        ReadSaws(root, head.Unit);
        ReadSuppliers(root, head);
        ReadCatalogues(root, reads, head);
        ReadPriceLists(reads, head);
        Sold();
        return rules;
    }

    /// <summary>Reads what a parts list alone stands on, which needs nothing of the list but its unit.</summary>
    /// <param name="found">Where findings go: it may be read while the list is.</param>
    public ShopRules ReadStarter(LengthUnit unit, FindingList found)
    {
        Starter.ReadMaterials(Book, found);
        var rules = ShopRules.OfStarter(unit, Book, found);
        ReadStarterSaws(unit, found);
        Starter.ReadCatalogue(unit, Book, Stocks, found);
        Sold();
        return rules;
    }

    /// <summary>What lies in the rack, by a file of it; priced by what can be bought.</summary>
    public void ReadRack(string file, TableChoices choices, Reads reads, ShopRules rules)
    {
        var catalogue = Stocks.Stocks.Where(stock => !stock.IsLeftover).ToList();
        RackReader.Read(
            file, choices, reads, Book, Stocks, (stock, material) => LeftoverPrice.Of(stock, material, catalogue, rules.Offcuts), findings);
    }

    /// <summary>Suppliers that deliver later than the stock is wanted: what they sell is left out, and that is said.</summary>
    public HashSet<string> LateSuppliers(JobHead head)
    {
        var late = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var entry in suppliers.Where(entry => entry.Terms.LeadDays > head.WantedInDays))
        {
            late.Add(entry.Terms.Name);
            findings.Note(
                "supplier-late", entry.Where,
                $"'{entry.Terms.Name}' delivers in {entry.Terms.LeadDays} days, the stock is wanted in {head.WantedInDays}: what it sells is left out",
                "raise wanted_in_days to order from it");
        }

        return late;
    }

    /// <summary>Supplier files in the order they are named, then suppliers of the job file itself.</summary>
    private void ReadSuppliers(TomlTable root, JobHead head)
    {
        var rates = SuppliersReader.Rates(root);
        foreach (var file in root.Texts("suppliers"))
        {
            files.WithText(file, "a suppliers file", content =>
            {
                if (TomlFile.Read(content, files.Beside(file.Text), new(findings) { Unit = head.Unit }) is { } table)
                {
                    SuppliersReader.Read(table, head.Currency, rates, suppliers);
                    table.NoOtherKeys();
                }
            });
        }

        SuppliersReader.Read(root, head.Currency, rates, suppliers);
    }

    private void ReadPriceLists(Reads reads, JobHead head)
    {
        foreach (var entry in suppliers)
        {
            foreach (var list in entry.PriceLists)
            {
                files.WithPath(list, "a price list", at => CatalogueReader.ReadFile(
                    at, "a price list", head.OtherTables, reads, Book, Stocks, new(entry.Terms, entry.Rate, entry.Terms.Currency ?? head.Currency), findings));
            }
        }
    }

    private TomlTable? ReadToml(string text, string file, LengthUnit unit, FindingList? found = null) => TomlFile.Read(text, file, new(found ?? findings) { Unit = unit });

    private void ReadStarterSaws(LengthUnit unit, FindingList? found = null)
    {
        var file = Starter.Saws(unit);
        if (ReadToml(Starter.Text(file), Starter.NameOf(file), unit, found) is { } root)
        {
            SawsReader.Read(root, saws);
            root.NoOtherKeys();
        }
    }

    /// <summary>Saw files in the order they are named, then saws of the job file itself; the starter's when neither is there.</summary>
    private void ReadSaws(TomlTable root, LengthUnit unit)
    {
        var named = root.Texts("saws");
        foreach (var file in named)
        {
            if (IsStarter(file.Text))
            {
                ReadStarterSaws(unit);
                continue;
            }

            files.WithText(file, "a saw file", content =>
            {
                if (ReadToml(content, files.Beside(file.Text), unit) is { } table)
                {
                    SawsReader.Read(table, saws);
                    table.NoOtherKeys();
                }
            });
        }

        SawsReader.Read(root, saws);
        if (named.Count == 0 && !root.Has("saw"))
        {
            ReadStarterSaws(unit);
        }
    }

    private void ReadCatalogues(TomlTable root, Reads reads, JobHead head)
    {
        var unit = head.Unit;
        foreach (var file in root.Texts("catalogue"))
        {
            switch (Words.Fold(file.Text))
            {
                case StarterWord:
                    Starter.ReadCatalogue(unit, Book, Stocks, findings);
                    break;
                case StarterWord + "metric":
                    Starter.ReadCatalogue(LengthUnit.Millimetre, Book, Stocks, findings);
                    break;
                case StarterWord + "inch":
                    Starter.ReadCatalogue(LengthUnit.Inch, Book, Stocks, findings);
                    break;
                default:
                    files.WithPath(file, "a catalogue", at => CatalogueReader.ReadFile(
                        at, "a catalogue", head.OtherTables, reads, Book, Stocks, PriceSource.Catalogue(head.Currency), findings));
                    break;
            }
        }

        // Demo prices are for a job that brings none of its own.
        if (!root.Has("catalogue") && suppliers.All(entry => entry.PriceLists.Count == 0))
        {
            Starter.ReadCatalogue(unit, Book, Stocks, findings);
        }
    }

    private static bool IsStarter(string name) => Words.Fold(name) == StarterWord;

    /// <summary>Of materials that are called alike those count that the shop can get, as plate or solid bar.</summary>
    private void Sold() => Book.Sold(Stocks.Stocks.Concat(Stocks.Offers.Select(offer => offer.From)).Where(stock => !stock.Form.IsSection()).Select(stock => stock.MaterialId));
}
