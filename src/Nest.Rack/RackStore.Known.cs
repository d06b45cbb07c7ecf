using System.Collections.Immutable;
using Nest.Rack.Values;

namespace Nest.Rack;

/// <summary>The part of the store that says which names it knows, so that a mistyped filter is not answered with an empty list.</summary>
public sealed partial class RackStore
{
    /// <summary>Unit in which the shop's sizes are typed and shown: <c>mm</c> or <c>in</c>; null: it was never said.</summary>
    public string? Unit => database.Read(db => RackSettings.Read(db, RackSettings.Unit));

    /// <summary>Price lists by which pieces without a value are valued: a file a line; empty: none.</summary>
    public ImmutableArray<string> Prices => database.Read(db => RackSettings.Read(db, RackSettings.Prices) is { Length: > 0 } files ? files.Split('\n').ToImmutableArray() : []);

    public void SetUnit(string unit) => database.Write("unit", change =>
    {
        RackSettings.Set(change, RackSettings.Unit, unit);
        change.Summary = $"sizes in {unit}";
        return 0;
    });

    public void SetPrices(IReadOnlyCollection<string> files) => database.Write("prices", change =>
    {
        RackSettings.Set(change, RackSettings.Prices, string.Join('\n', files));
        change.Summary = files.Count == 0 ? "no price lists of the shop" : $"price lists {string.Join(", ", files)}";
        return 0;
    });

    /// <summary>Names and families of the materials, in order.</summary>
    public ImmutableArray<(string Name, string Family)> KnownMaterials() => database.Read(db =>
        db.Query("SELECT name, family FROM material ORDER BY name", row => (row.GetString(0), row.GetString(1))).ToImmutableArray());

    /// <summary>Whether any piece, on the rack or gone, is of this heat.</summary>
    public bool KnowsHeat(string heat) => database.Read(db => db.Number("SELECT count(*) FROM piece WHERE heat = $1", heat.Trim()) > 0);
}
