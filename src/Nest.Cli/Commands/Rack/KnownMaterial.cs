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
        var meant = new Lazy<string>(() => Fold(ShopMaterials.Load(null).Value?.Find(name)?.Id ?? name));
        IEnumerable<Func<string, string, bool>> ways =
        [
            (one, _) => Fold(one) == wanted,

            // The list of other names is read only when it is needed.
            (one, _) => Fold(one) == meant.Value,
            (one, _) => Fold(one).StartsWith(wanted, StringComparison.Ordinal),
            (_, family) => Family(family).StartsWith(Family(name), StringComparison.Ordinal),
        ];
        foreach (var way in wanted.Length == 0 ? [] : ways)
        {
            if (known.Where(one => way(one.Name, one.Family)).Select(one => one.Name).ToImmutableArray() is { IsEmpty: false } found)
            {
                return found;
            }
        }

        throw new RackException(
            RackFault.Refused, $"the rack has no material '{name}'", known.IsEmpty ? "nothing was entered yet" : $"there are {string.Join(", ", known.Select(one => one.Name))}");
    }

    private static string Fold(string name) => string.Concat(name.Where(char.IsLetterOrDigit)).ToUpperInvariant();

    // Aluminium or aluminum.
    private static string Family(string name) => Fold(name) is var folded && folded == "ALUMINUM" ? "ALUMINIUM" : folded;
}
