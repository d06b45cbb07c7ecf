using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Stocks;

/// <summary>Reads materials: one row each.</summary>
internal static class MaterialsReader
{
    private static readonly Column[] Columns =
    [
        new("material", true, "id", "name"),
        new("family", true),
        new("density", true, "kg/m3", "density kg/m3") { Kind = ColumnKind.Number },
        new("density source", false, "source"),
        new("aliases", false, "also", "other names"),
        new("trade names", false),
        new("loose names", false),
        new("scrap price", false, "scrap price per kg", "scrap") { Kind = ColumnKind.Number },
    ];

    private static readonly string[] Families =
        ["aluminium", "steel", "stainless", "cast iron", "brass", "bronze", "copper", "titanium", "magnesium", "plastic"];

    /// <summary>The list of the starter, split and with its head found: it is the same for every job and list of a run.</summary>
    private static readonly Lazy<(CsvTable? Table, FindingList Findings)> OpenStarter = new(() =>
    {
        var own = new FindingList();
        return (CsvTable.Read(Starter.Text(Starter.Materials), Starter.NameOf(Starter.Materials), Columns, own), own);
    });

    /// <summary>The materials of the starter.</summary>
    public static void ReadStarter(Reads reads, MaterialBook book, FindingList findings)
    {
        findings.Take(OpenStarter.Value.Findings);
        Read(OpenStarter.Value.Table, reads, book, findings);
    }

    /// <summary>A file of the shop, in any form that tables have.</summary>
    public static void ReadFile(string path, Reads reads, TableChoices choices, MaterialBook book, FindingList findings) =>
        Read(CsvTable.ReadFile(path, "a materials file", Columns, choices, findings), reads, book, findings);

    private static void Read(CsvTable? read, Reads reads, MaterialBook book, FindingList findings)
    {
        if (read is not { } table)
        {
            return;
        }

        var rows = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            var id = row.Required("material").Length > 0 ? row.Name("material") : "";
            var family = row.Required("family").ToLowerInvariant();
            family = family == "aluminum" ? "aluminium" : family;
            var density = row.Required("density").Length == 0 ? null : row.Number("density", 100m, 25_000m);
            var scrap = row.Number("scrap price", 0m, 10_000m) ?? 0m;
            if (family.Length > 0 && !Families.Contains(family))
            {
                row.Error("family", "family-unknown", $"there is no family '{family}'", $"write one of {string.Join(", ", Families)}");
            }

            if (id.Length > 0 && !rows.TryAdd(id, line))
            {
                row.Error("material", "material-twice", $"the material '{id}' is already in row {rows[id]}", "leave one of them out");
            }

            if (row.Failed || density is not { } known)
            {
                continue;
            }

            var taken = book.Add(new()
            {
                Id = id,
                Family = family,
                Density = known,
                DensitySource = row.Text("density source"),
                Aliases = [.. Names(row, "aliases")],
                ScrapPricePerKilogram = scrap,
            }, Names(row, "trade names"), Names(row, "loose names"));
            if (taken is not null)
            {
                row.Error("aliases", "material-alias-taken", $"the name '{taken}' already belongs to another material", "give each name to one material");
            }
        }
    }

    /// <summary>The material that a row names; null after a finding with what may be meant.</summary>
    /// <param name="names">Collects names that lead to a material without being one of its names.</param>
    public static Material? Find(CsvRow row, MaterialBook book, IDictionary<string, (Material Material, SourcePosition Where)>? names = null)
    {
        var name = row.DefaultMaterial is { } otherwise && !row.Has("material") ? otherwise : row.Required("material");
        if (name.Length == 0)
        {
            return null;
        }

        if (row.MaterialFor(name) is { } chosen)
        {
            var said = book.Find(chosen);
            if (said is null)
            {
                row.Error("material", "material-unknown", $"'{name}' is to be read as '{chosen}', which is not known", Hint(chosen, book));
            }

            return said;
        }

        var meaning = book.Meaning(name);
        if (meaning.Material is { } material)
        {
            if (!meaning.Sure)
            {
                names?.TryAdd(name, (material, row.At("material")));
            }

            return material;
        }

        var shown = Counted.Start(name, 60);
        if (meaning.May.Count > 0)
        {
            var sold = meaning.May.Any(book.IsSold);
            var first = meaning.May[0].Id;
            row.Error(
                "material", "material-loose", $"the material {shown} may be one of {string.Join(", ", meaning.May.Take(8).Select(may => may.Id))}{(meaning.May.Count > 8 ? " …" : "")}{(sold ? ", which the shop can get" : "")}",
                $"write which, or say --material \"{name} = {first}\"");
        }
        else
        {
            row.Error("material", "material-unknown", $"the material {shown} is not known", Hint(name, book));
        }

        return null;
    }

    /// <summary>Tells which names were taken for which materials.</summary>
    public static void TellNames(Dictionary<string, (Material Material, SourcePosition Where)> names, FindingList findings)
    {
        if (names.Count > 0)
        {
            findings.Doubt(
                "material-names", names.Values.First().Where,
                $"read as: {string.Join(", ", names.Take(12).Select(pair => $"{Counted.Start(pair.Key, 40)} {pair.Value.Material.Id}"))}{(names.Count > 12 ? " …" : "")}",
                "--material \"NAME = MATERIAL\" says another");
        }
    }

    private static string Hint(string name, MaterialBook book)
    {
        if (Near.Hint(name, book.Names) is { Length: > 0 } hint)
        {
            return hint;
        }

        var ids = book.All.OrderBy(known => book.IsSold(known) ? 0 : 1).Select(known => known.Id).ToList();
        return $"use one of {string.Join(", ", ids.Take(16))}{(ids.Count > 16 ? " …" : "")}, or add it to a materials file";
    }

    private static string[] Names(CsvRow row, string column) =>
        row.Text(column).Split([';', '|'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
