using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Tables;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>Puts a job together from a job file, the files it names and the embedded defaults.</summary>
/// <param name="said">What the user says of the tables, before what the job file says.</param>
/// <param name="drafts">Parts lists that are being changed, by their full path: read in place of the files.</param>
internal sealed class JobFile(string path, TableChoices said, FindingList findings, IReadOnlyDictionary<string, byte[]>? drafts = null)
{
    private const string StarterWord = "starter";

    private readonly MaterialBook book = new();
    private readonly StockList stocks = new();
    private readonly List<Saw> saws = [];
    private readonly List<SupplierEntry> suppliers = [];
    private readonly StockRulesReader stockRules = new();
    private (string Plan, string Layouts)? keep;
    private readonly List<TableUnderstanding> lists = [];
    private readonly List<ModelShelf> shelves = [];

    /// <summary>How the parts lists were understood.</summary>
    public ImmutableArray<TableUnderstanding> Lists => [.. lists];

    /// <summary>What the job's catalogue and price lists sell, and its rules for offcuts; null after errors.</summary>
    public (IReadOnlyList<Stock> Catalogue, IReadOnlyList<OffcutRule> Rules)? Prices(string text) =>
        Shop(text) is var (_, _, rules, _) ? ([.. stocks.Stocks.Where(stock => !stock.IsLeftover)], rules.Offcuts) : null;

    /// <summary>From a job file.</summary>
    public JobInput? Read(string text)
    {
        if (Shop(text) is not var (root, head, rules, reads))
        {
            return null;
        }

        foreach (var file in root.Texts("rack"))
        {
            WithPath(file, "a rack file", at => ReadRack(at, OtherTables(head), reads, rules));
        }

        var partFiles = root.Texts("parts");
        if (partFiles.Count == 0 && !root.Failed)
        {
            root.Error("parts", "key-missing", "the job names no parts list", "add parts = \"parts.csv\"");
        }

        var folder = root.Text("models");
        var parts = new List<PartRow>();
        foreach (var file in partFiles)
        {
            WithPath(file, "a parts list", at =>
            {
                var list = drafts is not null && drafts.TryGetValue(Path.GetFullPath(at), out var draft)
                    ? CsvTable.Read(draft, at, "a parts list", PartsReader.Columns, head.Tables, findings)
                    : CsvTable.ReadFile(at, "a parts list", PartsReader.Columns, head.Tables, findings);
                if (list is { } table)
                {
                    ReadParts(table, head, parts, ModelShelf.Beside(table, findings, folder is null ? null : Beside(folder)));
                }
            });
        }

        stockRules.Read(root);
        ReadKeep(root);
        root.NoOtherKeys();
        return Input(head, rules, parts) is { } input ? input with { Said = root.Keys } : null;
    }

    /// <summary>Layouts of an earlier plan that stay.</summary>
    private void ReadKeep(TomlTable root)
    {
        if (root.Table("keep") is not { } table)
        {
            return;
        }

        foreach (var key in (string[])["plan", "layouts"])
        {
            if (!table.Has(key))
            {
                table.Error(key, "key-missing", $"keep has no {key}", "name the folder of an earlier plan, plan = \"out/x\", and the numbers of its layouts, layouts = \"1,4\"");
            }
        }

        if (table.Text("plan") is { } plan && table.Text("layouts") is { } layouts)
        {
            keep = (Beside(plan), layouts);
        }

        table.NoOtherKeys();
    }

    /// <summary>All but rack and parts: materials, rules, saws, suppliers, what can be bought.</summary>
    private (TomlTable Root, JobHead Head, ShopRules Rules, Reads Reads)? Shop(string text)
    {
        var context = new TomlContext(findings);
        if (TomlFile.Read(text, path, context) is not { } root)
        {
            return null;
        }

        var head = ReadHead(root, context);
        var reads = new Reads(head.Unit, head.Tables.DecimalMark);
        Starter.ReadMaterials(book, findings);
        foreach (var file in root.Texts("materials"))
        {
            WithPath(file, "a materials file", at => MaterialsReader.ReadFile(at, reads, OtherTables(head), book, findings));
        }

        var rules = ShopRules.Read(root, ShopRules.OfStarter(head.Unit, book, findings), book, head.Unit);
        ReadSaws(root, head.Unit);
        ReadSuppliers(root, head, context);
        ReadCatalogues(root, reads, head);
        ReadPriceLists(reads, head);
        Sold();
        return (root, head, rules, reads);
    }

    /// <summary>Reads what a parts list alone stands on, which needs nothing of the list but its unit.</summary>
    /// <param name="found">Where findings go: it may be read while the list is.</param>
    public ShopRules ReadStarter(LengthUnit unit, FindingList found)
    {
        Starter.ReadMaterials(book, found);
        var rules = ShopRules.OfStarter(unit, book, found);
        ReadStarterSaws(unit, found);
        Starter.ReadCatalogue(unit, book, stocks, found);
        Sold();
        return rules;
    }

    /// <summary>From a parts list alone, in the unit that it is found to be in.</summary>
    /// <param name="models">Models that its rows name; null: they lie beside the list.</param>
    /// <param name="starter">What <see cref="ReadStarter"/> gave for this unit; null: it was not asked yet.</param>
    public JobInput? Build(CsvTable table, JobHead head, ModelShelf? models = null, ShopRules? starter = null)
    {
        var rules = starter ?? ReadStarter(head.Unit, findings);
        var parts = new List<PartRow>();
        ReadParts(table, head, parts, models);
        return Input(head, rules, parts);
    }

    private void ReadParts(CsvTable table, JobHead head, List<PartRow> parts, ModelShelf? models = null)
    {
        var unit = FoundUnit.Of(table, PartColumns.Sizes, head.NamesUnit ? head.Unit : null);
        if (unit.Assumed && unit.Unit != head.Unit)
        {
            unit = unit with { Unit = head.Unit };
        }

        shelves.Add(models ?? ModelShelf.Beside(table, findings));
        var read = PartsReader.Read(table, unit, head.Batch, book, findings, shelves[^1]);
        parts.AddRange(read.Rows);
        lists.Add(read.Understanding);
    }

    /// <summary>Of materials that are called alike those count that the shop can get, as plate or solid bar.</summary>
    private void Sold() => book.Sold(stocks.Stocks.Concat(stocks.Offers.Select(offer => offer.From)).Where(stock => !stock.Form.IsSection()).Select(stock => stock.MaterialId));

    /// <summary>What is said of sheets is said of the parts list; heads may be of any table.</summary>
    private static TableChoices OtherTables(JobHead head) => head.Tables with { Sheet = null, Unit = null };

    private JobInput? Input(JobHead head, ShopRules rules, IReadOnlyList<PartRow> rows)
    {
        var parts = PartSections.Sized(PartsReader.AddUp(rows, head.Batch, findings), [.. stocks.Stocks, .. stocks.Offers.Select(offer => offer.From)], findings);
        if (findings.Errors > 0)
        {
            return null;
        }

        shelves.ForEach(shelf => shelf.TellAlike());
        // A plan file carries its job: stock of materials that no part is made of would only make it long.
        var used = parts.Select(row => row.Part.MaterialId).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var late = LateSuppliers(head);
        var job = new Job
        {
            Name = head.Name,
            Currency = head.Currency,
            Unit = head.Unit,
            InchFraction = head.InchFraction,
            Batch = head.Batch,
            Materials = [.. book.All.Where(material => used.Contains(material.Id))],
            Parts = [.. stockRules.On(parts)],
            Stocks = [.. stocks.Stocks.Where(stock => used.Contains(stock.MaterialId) && IsAsked(stock) && InTime(stock)).OrderBy(stock => stock.IsLeftover ? 0 : 1)],
            Saws = [.. saws],
            Suppliers = [.. suppliers.Select(entry => entry.Terms).Where(supplier => !late.Contains(supplier.Name))],
            MostSuppliers = head.MostSuppliers,
            WantedInDays = head.WantedInDays,
            Tax = head.Tax,
            StockRules = stockRules.Rules,
            UseFirst = stockRules.UseFirst,
            FreeSparesUpTo = stockRules.FreeSparesUpTo,
            AllowanceRules = rules.Allowances,
            OffcutRules = rules.Offcuts,
            Mill = rules.Mill,
            Fuss = rules.Fuss,
            LiftLimit = rules.LiftLimit,
            LongBar = rules.LongBar,
        };
        stockRules.Check(job, findings);
        job = LeftoversFirst.Apply(job, null);
        if (findings.Errors > 0)
        {
            return null;
        }

        return new()
        {
            Job = CutToSize.Expand(job, stocks.Offers.Where(offer => used.Contains(offer.From.MaterialId) && InTime(offer.From))),
            Keep = keep,
            Seconds = head.Seconds,
            Seed = head.Seed,
            Paper = head.Paper,
            Desk = head.Desk,
            Correspondence = new() { Shop = head.Shop, Suppliers = [.. suppliers.Select(entry => entry.Card)] },
            PartsLists = [.. lists],
            Doubts = findings.Doubts,
            DesignLimits = parts.Where(row => row.Limits is not null).ToImmutableDictionary(row => row.Part.Id, row => row.Limits!, StringComparer.OrdinalIgnoreCase),
            SizeTexts = parts.Where(row => row.SizeText.Length > 0).ToImmutableDictionary(row => row.Part.Id, row => row.SizeText, StringComparer.OrdinalIgnoreCase),
            Models = shelves.SelectMany(shelf => shelf.Used).DistinctBy(entry => entry.Key, StringComparer.OrdinalIgnoreCase)
                .ToImmutableDictionary(entry => entry.Key, entry => entry.Value, StringComparer.OrdinalIgnoreCase),
            PartRows = parts.ToDictionary(row => row.Part.Id, row => row.Where, StringComparer.OrdinalIgnoreCase),
            StockRows = stocks.Rows,
        };

        // Of sections only those of a form that some part asks for: there are many.
        bool IsAsked(Stock stock) => !stock.Form.IsSection() || parts.Exists(row => row.Part.Forms.Has(stock.Form));

        bool InTime(Stock stock) => stock.IsLeftover || stock.Supplier is not { } name || !late.Contains(name);
    }

    /// <summary>Suppliers that deliver later than the stock is wanted: what they sell is left out, and that is said.</summary>
    private HashSet<string> LateSuppliers(JobHead head)
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
    private void ReadSuppliers(TomlTable root, JobHead head, TomlContext context)
    {
        var rates = SuppliersReader.Rates(root);
        foreach (var file in root.Texts("suppliers"))
        {
            WithText(file, "a suppliers file", content =>
            {
                if (TomlFile.Read(content, Beside(file.Text), new(findings) { Unit = context.Unit }) is { } table)
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
                WithPath(list, "a price list", at => CatalogueReader.ReadFile(
                    at, "a price list", OtherTables(head), reads, book, stocks, new(entry.Terms, entry.Rate, entry.Terms.Currency ?? head.Currency), findings));
            }
        }
    }

    private JobHead ReadHead(TomlTable root, TomlContext context)
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
        var files = root.Texts("saws");
        foreach (var file in files)
        {
            if (IsStarter(file.Text))
            {
                ReadStarterSaws(unit);
                continue;
            }

            WithText(file, "a saw file", content =>
            {
                if (ReadToml(content, Beside(file.Text), unit) is { } table)
                {
                    SawsReader.Read(table, saws);
                    table.NoOtherKeys();
                }
            });
        }

        SawsReader.Read(root, saws);
        if (files.Count == 0 && !root.Has("saw"))
        {
            ReadStarterSaws(unit);
        }
    }

    private void ReadCatalogues(TomlTable root, Reads reads, JobHead head)
    {
        var unit = head.Unit;
        var files = root.Texts("catalogue");
        foreach (var file in files)
        {
            switch (Words.Fold(file.Text))
            {
                case StarterWord:
                    Starter.ReadCatalogue(unit, book, stocks, findings);
                    break;
                case StarterWord + "metric":
                    Starter.ReadCatalogue(LengthUnit.Millimetre, book, stocks, findings);
                    break;
                case StarterWord + "inch":
                    Starter.ReadCatalogue(LengthUnit.Inch, book, stocks, findings);
                    break;
                default:
                    WithPath(file, "a catalogue", at => CatalogueReader.ReadFile(
                        at, "a catalogue", OtherTables(head), reads, book, stocks, PriceSource.Catalogue(head.Currency), findings));
                    break;
            }
        }

        // Demo prices are for a job that brings none of its own.
        if (!root.Has("catalogue") && suppliers.All(entry => entry.PriceLists.Count == 0))
        {
            Starter.ReadCatalogue(unit, book, stocks, findings);
        }
    }

    private void ReadRack(string file, TableChoices choices, Reads reads, ShopRules rules)
    {
        var catalogue = stocks.Stocks.Where(stock => !stock.IsLeftover).ToList();
        RackReader.Read(
            file, choices, reads, book, stocks, (stock, material) => LeftoverPrice.Of(stock, material, catalogue, rules.Offcuts), findings);
    }

    private static bool IsStarter(string name) => Words.Fold(name) == StarterWord;

    /// <summary>A name in the job file, seen from where the program runs.</summary>
    private string Beside(string name) =>
        Path.GetDirectoryName(path) is { Length: > 0 } folder ? Path.Combine(folder, name) : name;

    private void WithText((string Text, SourcePosition At) file, string what, Action<string> use) => WithPath(file, what, at =>
    {
        if (TextFile.Read(at, what, findings) is { } text)
        {
            use(text);
        }
    });

    private void WithPath((string Text, SourcePosition At) file, string what, Action<string> use)
    {
        if (file.Text.Trim().Length == 0)
        {
            findings.Error("file-missing", file.At, "the name of a file is empty", $"name {what}");
            return;
        }

        var at = Beside(file.Text);
        if (!Path.Exists(at))
        {
            // Where it is named is where it is mended.
            findings.Error("file-missing", file.At, $"{what}, '{file.Text}', is not there", TextFile.Nearby(at));
            return;
        }

        use(at);
    }
}
