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
    private readonly JobShop shop = new(new(path, findings), findings);
    private readonly StockRulesReader stockRules = new();
    private (string Plan, string Layouts)? keep;
    private readonly List<TableUnderstanding> lists = [];
    private readonly List<ModelShelf> shelves = [];

    /// <summary>How the parts lists were understood.</summary>
    public ImmutableArray<TableUnderstanding> Lists => [.. lists];

    /// <summary>What the job's catalogue and price lists sell, and its rules for offcuts; null after errors.</summary>
    public (IReadOnlyList<Stock> Catalogue, IReadOnlyList<OffcutRule> Rules)? Prices(string text) =>
        Shop(text) is var (_, _, rules, _) ? ([.. shop.Stocks.Stocks.Where(stock => !stock.IsLeftover)], rules.Offcuts) : null;

    /// <summary>From a job file.</summary>
    public JobInput? Read(string text)
    {
        if (Shop(text) is not var (root, head, rules, reads))
        {
            return null;
        }

        foreach (var file in root.Texts("rack"))
        {
            shop.Files.WithPath(file, "a rack file", at => shop.ReadRack(at, head.OtherTables, reads, rules));
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
            shop.Files.WithPath(file, "a parts list", at =>
            {
                var list = drafts is not null && drafts.TryGetValue(Path.GetFullPath(at), out var draft)
                    ? CsvTable.Read(draft, at, "a parts list", PartsReader.Columns, head.Tables, findings)
                    : CsvTable.ReadFile(at, "a parts list", PartsReader.Columns, head.Tables, findings);
                if (list is { } table)
                {
                    ReadParts(table, head, parts, ModelShelf.Beside(table, findings, folder is null ? null : shop.Files.Beside(folder)));
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
            keep = (shop.Files.Beside(plan), layouts);
        }

        table.NoOtherKeys();
    }

    private (TomlTable Root, JobHead Head, ShopRules Rules, Reads Reads)? Shop(string text)
    {
        var context = new TomlContext(findings);
        if (TomlFile.Read(text, path, context) is not { } root)
        {
            return null;
        }

        var head = JobHeadReader.Read(root, context, path, said, findings);
        var reads = new Reads(head.Unit, head.Tables.DecimalMark);
        return (root, head, shop.Read(root, head, reads), reads);
    }

    /// <inheritdoc cref="JobShop.ReadStarter"/>
    public ShopRules ReadStarter(LengthUnit unit, FindingList found) => shop.ReadStarter(unit, found);

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
        var read = PartsReader.Read(table, unit, head.Batch, shop.Book, findings, shelves[^1]);
        parts.AddRange(read.Rows);
        lists.Add(read.Understanding);
    }

    private JobInput? Input(JobHead head, ShopRules rules, IReadOnlyList<PartRow> rows)
    {
        var parts = PartSections.Sized(PartSums.AddUp(rows, head.Batch, findings), [.. shop.Stocks.Stocks, .. shop.Stocks.Offers.Select(offer => offer.From)], findings);
        if (findings.Errors > 0)
        {
            return null;
        }

        shelves.ForEach(shelf => shelf.TellAlike());
        // A plan file carries its job: stock of materials that no part is made of would only make it long.
        var used = parts.Select(row => row.Part.MaterialId).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var late = shop.LateSuppliers(head);
        var job = new Job
        {
            Name = head.Name,
            Currency = head.Currency,
            Unit = head.Unit,
            InchFraction = head.InchFraction,
            Batch = head.Batch,
            Materials = [.. shop.Book.All.Where(material => used.Contains(material.Id))],
            Parts = [.. stockRules.On(parts)],
            Stocks = [.. shop.Stocks.Stocks.Where(stock => used.Contains(stock.MaterialId) && IsAsked(stock) && InTime(stock)).OrderBy(stock => stock.IsLeftover ? 0 : 1)],
            Saws = [.. shop.Saws],
            Suppliers = [.. shop.Suppliers.Select(entry => entry.Terms).Where(supplier => !late.Contains(supplier.Name))],
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
            Job = CutToSize.Expand(job, shop.Stocks.Offers.Where(offer => used.Contains(offer.From.MaterialId) && InTime(offer.From))),
            Keep = keep,
            Seconds = head.Seconds,
            Seed = head.Seed,
            Paper = head.Paper,
            Desk = head.Desk,
            Correspondence = new() { Shop = head.Shop, Suppliers = [.. shop.Suppliers.Select(entry => entry.Card)] },
            PartsLists = [.. lists],
            Doubts = findings.Doubts,
            DesignLimits = parts.Where(row => row.Limits is not null).ToImmutableDictionary(row => row.Part.Id, row => row.Limits!, StringComparer.OrdinalIgnoreCase),
            SizeTexts = parts.Where(row => row.SizeText.Length > 0).ToImmutableDictionary(row => row.Part.Id, row => row.SizeText, StringComparer.OrdinalIgnoreCase),
            Models = shelves.SelectMany(shelf => shelf.Used).DistinctBy(entry => entry.Key, StringComparer.OrdinalIgnoreCase)
                .ToImmutableDictionary(entry => entry.Key, entry => entry.Value, StringComparer.OrdinalIgnoreCase),
            PartRows = parts.ToDictionary(row => row.Part.Id, row => row.Where, StringComparer.OrdinalIgnoreCase),
            StockRows = shop.Stocks.Rows,
        };

        // Of sections only those of a form that some part asks for: there are many.
        bool IsAsked(Stock stock) => !stock.Form.IsSection() || parts.Exists(row => row.Part.Forms.Has(stock.Form));

        bool InTime(Stock stock) => stock.IsLeftover || stock.Supplier is not { } name || !late.Contains(name);
    }
}
