using Nest.Core.Jobs;
using Nest.Rack.Database;
using Nest.Rack.History;

namespace Nest.Rack.Pieces;

/// <summary>The materials the rack knows, with the density it books them at.</summary>
internal static class Materials
{
    private const decimal PerKilogram = 1000m;

    /// <summary>Key and density (kg/m³).</summary>
    public static (long Id, decimal Density) Find(Db db, string name)
    {
        var found = db.Query("SELECT id, density FROM material WHERE name = $1", row => (row.GetInt64(0), row.GetInt64(1) / PerKilogram), name);
        return found.Count == 1
            ? found[0]
            : throw RackException.Refused($"the rack does not know the material {name}", "name its family and density once, as in the list of materials");
    }

    /// <summary>Makes the materials known; one that is known keeps the density its pieces were booked at.</summary>
    public static void Learn(ChangeSet change, IEnumerable<Material> materials)
    {
        foreach (var material in materials)
        {
            if (change.Db.Number("SELECT count(*) FROM material WHERE name = $1", material.Id) == 0)
            {
                var density = (long)decimal.Round(material.Density * PerKilogram);
                if (density <= 0)
                {
                    throw RackException.Refused($"the density of {material.Id} must be above 0", "give kg/m³");
                }

                change.Insert("material", ("name", material.Id), ("family", material.Family), ("density", density));
            }
        }
    }
}
