using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Reads materials: one row each.</summary>
internal static class MaterialsReader
{
    private static readonly Column[] Columns =
    [
        new("material", true, "id", "name"),
        new("family", true),
        new("density", true, "kg/m3", "density kg/m3"),
        new("density source", false, "source"),
        new("aliases", false, "also", "other names"),
        new("scrap price", false, "scrap price per kg", "scrap"),
    ];

    private static readonly string[] Families =
        ["aluminium", "steel", "stainless", "brass", "copper", "titanium", "magnesium", "plastic"];

    public static void Read(string text, string file, Reads reads, MaterialBook book, FindingList findings)
    {
        if (CsvTable.Read(text, file, Columns, findings) is not { } table)
        {
            return;
        }

        var rows = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            var id = row.Required("material");
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
                Aliases = [.. row.Text("aliases").Split([';', '|'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)],
                ScrapPricePerKilogram = scrap,
            });
            if (taken is not null)
            {
                row.Error("aliases", "material-alias-taken", $"the name '{taken}' already belongs to another material", "give each name to one material");
            }
        }
    }

    /// <summary>The material that a row names; null after a finding with near names.</summary>
    /// <param name="otherwise">Where the cell is empty; null: it must not be.</param>
    public static Material? Find(CsvRow row, MaterialBook book, string? otherwise = null)
    {
        var name = otherwise is not null && !row.Has("material") ? otherwise : row.Required("material");
        if (name.Length == 0)
        {
            return null;
        }

        var material = book.Find(name);
        if (material is null)
        {
            var hint = Near.Hint(name, book.Names);
            row.Error(
                "material", "material-unknown", $"the material '{name}' is not known",
                hint.Length > 0 ? hint : $"use one of {string.Join(", ", book.All.Select(known => known.Id))}, or add it to a materials file");
        }

        return material;
    }
}
