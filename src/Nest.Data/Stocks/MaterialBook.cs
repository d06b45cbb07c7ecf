using Nest.Core.Jobs;

namespace Nest.Data.Stocks;

/// <summary>What a name of a material stands for.</summary>
/// <param name="Material">Null: none or several.</param>
/// <param name="Sure">Whether it is a name of the material and not one that only leads to it.</param>
/// <param name="May">Materials that a loose name (brass, CRS) may mean.</param>
internal sealed record MaterialMeaning(Material? Material, bool Sure, IReadOnlyList<Material> May);

/// <summary>The materials of a job by name and alias. Case, spaces, hyphens and a leading "EN AW" don't matter.</summary>
/// <remarks>Names as people write them lead to one, too: words that say nothing of the alloy (aluminum, bar, CRS behind a grade) are
/// passed over. A loose name, as brass, asks back, unless the shop can get only one that is called so. Trade marks are known and never shown.</remarks>
internal sealed class MaterialBook
{
    private static readonly HashSet<string> Filler = new(StringComparer.Ordinal)
    {
        "ALUMINUM", "ALUMINIUM", "ALUM", "ALU", "AL", "ALLOY", "STEEL", "STL", "STAHL", "STAINLESS", "SS", "SST", "INOX", "EDELSTAHL", "BRASS", "MESSING", "BRONZE", "COPPER", "TITANIUM", "TI", "PLASTIC", "MILD",
        "BAR", "PLATE", "PLT", "SHEET", "FLAT", "ROUND", "ROD", "STOCK", "SQUARE", "TOOLING", "ASTM", "AISI", "SAE", "UNS", "EN", "AW", "DIN", "ISO", "WNR", "WERKSTOFF", "COLD", "ROLLED", "DRAWN", "FINISHED", "FINISH",
        "HOT", "CRS", "CR", "CF", "CD", "CDS", "HRS", "HR", "HRO", "GRADE", "GR", "TYPE", "TYP", "MATERIAL", "BLACK", "WHITE", "NATURAL", "NAT", "BLK", "EXTRUDED", "EXTRUSION", "COLDROLLED", "COLDDRAWN", "COLDFINISHED", "HOTROLLED",
    };

    private static readonly Dictionary<string, string> FamilyWords = new(StringComparer.Ordinal)
    {
        ["ALUMINIUM"] = "aluminium", ["ALUMINUM"] = "aluminium", ["ALU"] = "aluminium", ["AL"] = "aluminium", ["ALUM"] = "aluminium", ["ALUMINIO"] = "aluminium",
        ["STEEL"] = "steel", ["STAHL"] = "steel", ["ACIER"] = "steel", ["ACERO"] = "steel",
        ["STAINLESS"] = "stainless", ["STAINLESSSTEEL"] = "stainless", ["SS"] = "stainless", ["SST"] = "stainless", ["INOX"] = "stainless", ["EDELSTAHL"] = "stainless", ["ROSTFREI"] = "stainless", ["ACEROINOXIDABLE"] = "stainless",
        ["BRASS"] = "brass", ["MESSING"] = "brass", ["LAITON"] = "brass", ["LATÓN"] = "brass", ["BRONZE"] = "bronze", ["BRONCE"] = "bronze", ["COPPER"] = "copper", ["KUPFER"] = "copper", ["CUIVRE"] = "copper", ["COBRE"] = "copper",
        ["TITANIUM"] = "titanium", ["TITAN"] = "titanium", ["TI"] = "titanium", ["MAGNESIUM"] = "magnesium", ["PLASTIC"] = "plastic", ["KUNSTSTOFF"] = "plastic", ["PLASTIQUE"] = "plastic", ["PLÁSTICO"] = "plastic",
        ["CASTIRON"] = "cast iron", ["GUSS"] = "cast iron", ["GUSSEISEN"] = "cast iron", ["FONTE"] = "cast iron",
    };

    private readonly Dictionary<string, Material> byName = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<string>> loose = new(StringComparer.Ordinal);
    private readonly Dictionary<string, MaterialMeaning> met = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> sold = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<Material> materials = [];

    public IReadOnlyList<Material> All => materials;

    /// <summary>All names that a list may use and that may be shown.</summary>
    public IEnumerable<string> Names => materials.SelectMany(material => material.Aliases.Prepend(material.Id));

    /// <summary>The material of this name; null where the name leads to none or to several.</summary>
    public Material? Find(string name) => Meaning(name).Material;

    /// <summary>Says what the shop can get: of materials that are called alike those count.</summary>
    public void Sold(IEnumerable<string> ids)
    {
        sold.UnionWith(ids);
        met.Clear();
    }

    public bool IsSold(Material material) => sold.Contains(material.Id);

    public MaterialMeaning Meaning(string name)
    {
        if (!met.TryGetValue(name, out var meaning))
        {
            meaning = met[name] = Work(name);
        }

        return meaning;
    }

    /// <summary>Adds a material, in place of one with the same id; gives back the name that another material already has.</summary>
    /// <param name="tradeNames">Names that are read, never shown.</param>
    /// <param name="looseNames">Names that other materials may have too.</param>
    public string? Add(Material material, IEnumerable<string> tradeNames, IEnumerable<string> looseNames)
    {
        met.Clear();
        var at = materials.FindIndex(known => Fold(known.Id) == Fold(material.Id));
        if (at >= 0)
        {
            foreach (var name in byName.Where(pair => ReferenceEquals(pair.Value, materials[at])).Select(pair => pair.Key).ToList())
            {
                byName.Remove(name);
            }

            materials[at] = material;
        }
        else
        {
            materials.Add(material);
        }

        foreach (var name in looseNames)
        {
            (loose.TryGetValue(Fold(name), out var ids) ? ids : loose[Fold(name)] = []).Add(material.Id);
        }

        string? taken = null;
        foreach (var name in material.Aliases.Prepend(material.Id).Concat(tradeNames))
        {
            if (!byName.TryAdd(Fold(name), material) && byName[Fold(name)] != material)
            {
                taken ??= name;
            }
        }

        return taken;
    }

    private MaterialMeaning Work(string name)
    {
        var folded = Fold(name);
        if (byName.TryGetValue(folded, out var exact))
        {
            return new(exact, true, [exact]);
        }

        if (name.Length > 200 || folded.Length == 0)
        {
            return new(null, false, []);
        }

        if (byName.TryGetValue(Bare(name), out var bare))
        {
            return new(bare, false, [bare]);
        }

        var may = loose.TryGetValue(folded, out var ids) ? materials.Where(material => ids.Contains(material.Id)).ToList()
            : FamilyWords.TryGetValue(folded, out var family) ? materials.Where(material => material.Family == family).ToList()
            : [];
        if (may.Any(IsSold))
        {
            may = [.. may.Where(IsSold)];
            return new(may.Count == 1 ? may[0] : null, false, may);
        }

        return new(null, false, may);
    }

    /// <summary>The name without words that say nothing of the alloy.</summary>
    private static string Bare(string name)
    {
        var words = name.ToUpperInvariant().Split([' ', ',', ';', '/', '(', ')', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries)
            .Where(word => !Filler.Contains(Fold(word))).Select(Fold).ToList();
        var bare = string.Concat(words);
        foreach (var prefix in (string[])["ALUMINUM", "ALUMINIUM", "ALU", "AL", "SS", "SST", "AISI", "SAE", "ASTM", "EN"])
        {
            // AL6061, SS304: letters of the metal before the number of the alloy.
            if (bare.StartsWith(prefix, StringComparison.Ordinal) && bare.Length > prefix.Length + 2 && char.IsAsciiDigit(bare[prefix.Length]))
            {
                return bare[prefix.Length..];
            }
        }

        return bare;
    }

    private static string Fold(string name)
    {
        var folded = string.Concat(name.Where(char.IsLetterOrDigit)).ToUpperInvariant();
        return folded.StartsWith("ENAW", StringComparison.Ordinal) ? folded[4..] : folded;
    }
}
