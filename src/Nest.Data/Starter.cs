using System.Text;
using Nest.Core.Quantities;
using Nest.Data.Stocks;

namespace Nest.Data;

/// <summary>The files of <c>stock/</c>, embedded, so that a bare parts list works without any other file.</summary>
internal static class Starter
{
    public const string Materials = "materials.csv";

    public static IReadOnlyList<string> Catalogue(LengthUnit unit) => unit == LengthUnit.Millimetre
        ? ["plates-metric.csv", "bars-metric.csv", "sections-metric.csv"]
        : ["plates-inch.csv", "bars-inch.csv", "sections-inch.csv"];

    public static string Saws(LengthUnit unit) => unit == LengthUnit.Millimetre ? "saws-metric.toml" : "saws-inch.toml";

    public static string Shop(LengthUnit unit) => unit == LengthUnit.Millimetre ? "shop-metric.toml" : "shop-inch.toml";

    /// <summary>Name of an embedded file in findings.</summary>
    public static string NameOf(string file) => "starter:" + file;

    public static string Text(string file)
    {
        using var stream = typeof(Starter).Assembly.GetManifestResourceStream("stock/" + file)
            ?? throw new InvalidOperationException($"The embedded file {file} is missing.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }

    public static void ReadMaterials(MaterialBook book, FindingList findings) =>
        MaterialsReader.ReadStarter(new(LengthUnit.Millimetre, '.'), book, findings);

    public static void ReadCatalogue(LengthUnit unit, MaterialBook book, StockList stocks, FindingList findings)
    {
        foreach (var file in Catalogue(unit))
        {
            CatalogueReader.ReadStarter(file, new(unit, '.'), book, stocks, findings);
        }
    }
}
