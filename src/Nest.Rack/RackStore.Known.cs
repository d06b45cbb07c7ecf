using System.Collections.Immutable;

namespace Nest.Rack;

/// <summary>The part of the store that says which names it knows, so that a mistyped filter is not answered with an empty list.</summary>
public sealed partial class RackStore
{
    /// <summary>Names and families of the materials, in order.</summary>
    public ImmutableArray<(string Name, string Family)> KnownMaterials() => database.Read(db =>
        db.Query("SELECT name, family FROM material ORDER BY name", row => (row.GetString(0), row.GetString(1))).ToImmutableArray());

    /// <summary>Whether any piece, on the rack or gone, is of this heat.</summary>
    public bool KnowsHeat(string heat) => database.Read(db => db.Number("SELECT count(*) FROM piece WHERE heat = $1", heat.Trim()) > 0);
}
