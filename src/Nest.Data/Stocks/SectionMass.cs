using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Mass per metre of a section as a list gives it: it counts in place of that from the sizes, so that rounded corners weigh what they do.</summary>
/// <remarks>Kept as the area of metal that has this mass: mass per metre ÷ density, nearest to a millionth of a square millimetre.</remarks>
public static class SectionMass
{
    private const string PerMetre = "kg per m";
    private const string PerFoot = "lb per ft";
    private const decimal KilogramsPerMetre = 0.45359237m / 0.3048m;
    private const decimal Heaviest = 10_000m;

    internal static IReadOnlyList<Column> Columns { get; } =
    [
        new(PerMetre, false, "kg/m", "mass per metre", "mass per meter", "weight per metre", "weight kg/m", "gewicht kg/m", "gewicht pro meter", "metergewicht", "masse linéique", "poids au mètre", "kg/ml", "peso por metro", "peso kg/m") { Kind = ColumnKind.Number },
        new(PerFoot, false, "lb/ft", "lbs/ft", "weight per foot", "pounds per foot", "weight lb/ft") { Kind = ColumnKind.Number },
    ];

    internal static string ColumnOf(CsvRow row) => row.Has(PerFoot) ? PerFoot : PerMetre;

    /// <summary>Null: not given (a profile must give it), or refused.</summary>
    internal static Area? Read(CsvRow row, Form form, Material? material, bool isTold)
    {
        if (row.Has(PerMetre) && row.Has(PerFoot))
        {
            row.Error(PerFoot, "section-mass", "the mass is given per metre and per foot", "leave one of them empty");
            return null;
        }

        var metric = row.Number(PerMetre, 0m, Heaviest);
        var mass = row.Number(PerFoot, 0m, Heaviest) is { } perFoot ? perFoot * KilogramsPerMetre : metric;
        if (mass is null && !isTold && form == Form.Profile && !row.Failed)
        {
            row.Error(PerMetre, "section-mass", "a profile needs its mass per metre", $"fill in '{PerMetre}' or '{PerFoot}', as the maker gives it");
        }

        if (mass is null or 0m || material is null)
        {
            return null;
        }

        return Of(mass.Value, material);
    }

    /// <summary>Area of metal that has this mass per metre, in kilograms.</summary>
    public static Area Of(decimal perMetre, Material material)
    {
        // kg/m ÷ kg/m³ is m²; a millionth of a square millimetre is 10⁶ nm².
        var millionths = decimal.Round(perMetre / material.Density * 1_000_000_000_000m, 0, MidpointRounding.AwayFromZero);
        return Area.FromSquareNanometres((Int128)millionths * 1_000_000);
    }
}
