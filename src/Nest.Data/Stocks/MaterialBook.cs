using Nest.Core.Jobs;

namespace Nest.Data.Stocks;

/// <summary>The materials of a job by name and alias. Case, spaces, hyphens and a leading "EN AW" don't matter.</summary>
internal sealed class MaterialBook
{
    private readonly Dictionary<string, Material> byName = new(StringComparer.Ordinal);
    private readonly List<Material> materials = [];

    public IReadOnlyList<Material> All => materials;

    /// <summary>All names that a list may use.</summary>
    public IEnumerable<string> Names => materials.SelectMany(material => material.Aliases.Prepend(material.Id));

    public Material? Find(string name) => byName.GetValueOrDefault(Fold(name));

    /// <summary>Adds a material, in place of one with the same id; gives back the name that another material already has.</summary>
    public string? Add(Material material)
    {
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

        string? taken = null;
        foreach (var name in material.Aliases.Prepend(material.Id))
        {
            if (!byName.TryAdd(Fold(name), material) && byName[Fold(name)] != material)
            {
                taken ??= name;
            }
        }

        return taken;
    }

    private static string Fold(string name)
    {
        var folded = string.Concat(name.Where(char.IsLetterOrDigit)).ToUpperInvariant();
        return folded.StartsWith("ENAW", StringComparison.Ordinal) ? folded[4..] : folded;
    }
}
