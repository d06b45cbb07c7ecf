namespace Nest.Data.Tables;

/// <summary>What a table may have at most. A file beyond these is refused with a message; they also bound time and memory of any file.</summary>
/// <remarks>They stand in <c>stock/README.md</c> too.</remarks>
public static class TableLimits
{
    /// <summary>Rows of a sheet or text, empty ones of a text too.</summary>
    public const int Rows = 200_000;

    /// <summary>Cells of a row.</summary>
    public const int Columns = 500;

    /// <summary>Cells of a table that hold something.</summary>
    public const int Cells = 3_000_000;

    /// <summary>Characters of a cell.</summary>
    public const int CellText = 8_000;

    /// <summary>Characters of a name: part, stock, mark, place, supplier.</summary>
    public const int Name = 120;

    /// <summary>Characters of a note.</summary>
    public const int Note = 1_000;

    /// <summary>Bytes of one part of a workbook, unpacked.</summary>
    public const long Unpacked = 160L * 1024 * 1024;

    /// <summary>Texts that the cells of a workbook share, and characters of all of them.</summary>
    public const int SharedTexts = 1_000_000;

    /// <summary>Sheets of a workbook.</summary>
    public const int Sheets = 200;
}
