using System.Collections.Immutable;
using Nest.Data.Racks;
using Nest.Rack;

namespace Nest.Cli.Commands.Rack;

/// <summary>Names of materials as they are typed: as filter, and where a wrong one is corrected.</summary>
internal static class KnownMaterial
{
    /// <summary>The materials of the rack that a filter means: by name or another name for it, else all whose name begins so, else all of
    /// a family so called. Case and what is no letter or digit don't matter.</summary>
    /// <exception cref="RackException">The rack has none such.</exception>
    public static ImmutableArray<string> OnRack(string name, RackStore store)
    {
        var known = store.KnownMaterials();
        var wanted = Fold(name);
        var other = Fold(ShopMaterials.Load(null).Value?.Find(name)?.Id ?? name);
        foreach (var found in new[]
        {
            known.Where(one => Fold(one.Name) == wanted || Fold(one.Name) == other), known.Where(one => Fold(one.Name).StartsWith(wanted, StringComparison.Ordinal)),
            known.Where(one => Family(one.Family).StartsWith(Family(name), StringComparison.Ordinal)),
        })
        {
            if (wanted.Length > 0 && found.Any())
            {
                return [.. found.Select(one => one.Name)];
            }
        }

        throw new RackException(
            RackFault.Refused, $"the rack has no material '{name}'", known.IsEmpty ? "nothing was entered yet" : $"there are {string.Join(", ", known.Select(one => one.Name))}");
    }

    private static string Fold(string name) => string.Concat(name.Where(char.IsLetterOrDigit)).ToUpperInvariant();

    // Aluminium or aluminum.
    private static string Family(string name) => Fold(name) is var folded && folded == "ALUMINUM" ? "ALUMINIUM" : folded;
}
