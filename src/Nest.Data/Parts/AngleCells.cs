using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Parts;

/// <summary>Reads the angled ends of a part: degrees from square, 0 or empty is square.</summary>
internal static class AngleCells
{
    public const string Start = "angle start";
    public const string End = "angle end";
    public const string Across = "angle across";

    /// <summary>The ends; null: both square, or something is wrong with them (then the row has failed).</summary>
    public static EndAngles? Read(CsvRow row)
    {
        var ends = new EndAngles(One(row, Start), One(row, End), Thick(row));
        if (ends.Cuts == 0 && row.Has(Across) && !row.Failed)
        {
            row.Note(Across, "angle-none", "both ends are square, so nothing leans", $"give '{Start}' or '{End}', or leave '{Across}' empty");
        }

        return ends.Cuts == 0 ? null : ends;
    }

    /// <summary>Reports cuts that meet within the part.</summary>
    public static void CheckLength(CsvRow row, EndAngles? ends, Length length, Length width, Length thickness)
    {
        var across = ends is { AcrossThickness: true } ? thickness : width;
        if (ends?.ShortEdge(length, across) <= Length.Zero)
        {
            row.Error(
                ends.Start.IsSquare ? End : Start, "angles-meet",
                $"ends at {ends.Start} and {ends.End} across {across} meet within the length of {length}",
                "give the length long point to long point, and check the angles and what they lean across");
        }
    }

    private static Angle One(CsvRow row, string column)
    {
        var most = Angle.Steepest.ToDegrees();
        if (row.Number(column, -most, most) is not { } degrees)
        {
            return Angle.Square;
        }

        if (!Angle.IsAngle(degrees))
        {
            row.Error(column, "angle-too-fine", $"{column} is {row.Text(column)}", "write degrees from square with at most three decimals");
            return Angle.Square;
        }

        return Angle.FromDegrees(degrees);
    }

    private static bool Thick(CsvRow row) => row.Word<bool>(
        Across,
        word => word.ToUpperInvariant() switch
        {
            "WIDTH" or "W" => false,
            "THICKNESS" or "T" => true,
            _ => null,
        },
        "width or thickness") ?? false;
}
