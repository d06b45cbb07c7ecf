using Nest.Core.Jobs;

namespace Nest.Core.Cutting;

/// <summary>Groups of materials that are sawn one after the other without cleaning out chips or changing the blade.</summary>
public enum MaterialGroup
{
    Steel,
    OtherMetal,
    LightMetal,
    Plastic,
}

/// <summary>In which order a person saws materials: steels together, other metals, aluminium, and plastics last.</summary>
/// <remarks>So that chips, coolant and blade change as seldom as can be (common practice, no source). The group follows the family's name
/// (steel, stainless, iron, tool…; alumin…, magnes…; plastic, wood…); where it says nothing, the density: below 1.7 g/cm³ a plastic, below
/// 3 a light metal, from 7 to 8.2 a steel, else another metal.</remarks>
public static class MaterialOrder
{
    private static readonly (string Word, MaterialGroup Group)[] Words =
    [
        ("steel", MaterialGroup.Steel), ("stainless", MaterialGroup.Steel), ("iron", MaterialGroup.Steel), ("tool", MaterialGroup.Steel),
        ("alumin", MaterialGroup.LightMetal), ("magnes", MaterialGroup.LightMetal),
        ("plastic", MaterialGroup.Plastic), ("polymer", MaterialGroup.Plastic), ("wood", MaterialGroup.Plastic),
        ("brass", MaterialGroup.OtherMetal), ("bronze", MaterialGroup.OtherMetal), ("copper", MaterialGroup.OtherMetal), ("titan", MaterialGroup.OtherMetal),
    ];

    public static MaterialGroup Of(Material material)
    {
        foreach (var (word, group) in Words)
        {
            if (material.Family.Contains(word, StringComparison.OrdinalIgnoreCase))
            {
                return group;
            }
        }

        return material.Density switch
        {
            < 1_700m => MaterialGroup.Plastic,
            < 3_000m => MaterialGroup.LightMetal,
            >= 7_000m and <= 8_200m => MaterialGroup.Steel,
            _ => MaterialGroup.OtherMetal,
        };
    }

    /// <summary>Sorts by what a person would cut first: saw (in the job's order), group of materials, material, form, thickness, width,
    /// stock (in the job's order).</summary>
    public static IOrderedEnumerable<T> Sort<T>(Job job, IEnumerable<T> items, Func<T, (string SawId, Stock Stock)> key)
    {
        var saws = job.Saws.Select((saw, at) => (saw.Id, at)).ToDictionary(pair => pair.Id, pair => pair.at, StringComparer.Ordinal);
        var stocks = job.Stocks.Select((stock, at) => (stock.Id, at)).ToDictionary(pair => pair.Id, pair => pair.at, StringComparer.Ordinal);
        return items
            .OrderBy(item => saws.GetValueOrDefault(key(item).SawId, int.MaxValue))
            .ThenBy(item => Of(job.MaterialOf(key(item).Stock.MaterialId)))
            .ThenBy(item => job.MaterialOf(key(item).Stock.MaterialId).Family, StringComparer.OrdinalIgnoreCase)
            .ThenBy(item => key(item).Stock.MaterialId, StringComparer.OrdinalIgnoreCase)
            .ThenBy(item => key(item).Stock.Form)
            .ThenBy(item => key(item).Stock.Thickness)
            .ThenBy(item => key(item).Stock.Width)
            .ThenBy(item => stocks[key(item).Stock.Id]);
    }
}
