using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Parts;

/// <summary>Reads <c>may shrink</c> and <c>may grow</c>: <c>no</c>, one length for all dimensions, or a length for each: <c>length 2, width 0.5</c>.</summary>
internal static class LimitCells
{
    public const string Shrink = "may shrink";
    public const string Grow = "may grow";

    /// <summary>Null: neither cell is filled.</summary>
    public static DesignLimits? Read(CsvRow row)
    {
        var (shrink, grow) = (One(row, Shrink), One(row, Grow));
        return shrink is null && grow is null ? null : new(shrink, grow);
    }

    private static DimensionLimits? One(CsvRow row, string column)
    {
        var text = row.Text(column);
        if (text.Length == 0)
        {
            return null;
        }

        if (Words.YesNo(text) == false)
        {
            return new(default, default, default);
        }

        if (row.Read(text, column).Value is { } all)
        {
            return all >= Length.Zero ? new(all, all, all) : Refuse(row, column, text);
        }

        var (length, width, thickness) = (Length.Zero, Length.Zero, Length.Zero);
        foreach (var item in text.Split([';', ','], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var at = item.IndexOfAny([' ', '=', ':']);
            if (at < 0 || row.Read(item[(at + 1)..].Trim(' ', '=', ':'), column).Value is not { } limit || limit < Length.Zero)
            {
                return Refuse(row, column, text);
            }

            switch (Words.Fold(item[..at]))
            {
                case "length" or "l" or "long" or "lange" or "longueur" or "largo" or "longitud":
                    length = limit;
                    break;
                case "width" or "w" or "breite" or "b" or "largeur" or "ancho" or "diameter" or "dia" or "d" or "durchmesser" or "diametre" or "diametro":
                    width = limit;
                    break;
                case "thickness" or "t" or "thk" or "height" or "h" or "dicke" or "hohe" or "epaisseur" or "hauteur" or "espesor" or "altura":
                    thickness = limit;
                    break;
                default:
                    return Refuse(row, column, text);
            }
        }

        return new(length, width, thickness);
    }

    private static DimensionLimits? Refuse(CsvRow row, string column, string text)
    {
        row.Error(column, "limit-unreadable", $"{column} is '{text}'", "write no, one length for all dimensions, or several as length 2; width 0.5");
        return null;
    }
}
