using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Heads of the columns that catalogues, price lists, leftovers beside a job and tables of the rack share, so that a shop writes
/// them alike everywhere.</summary>
internal static class StockColumns
{
    public static Column GoodFaces { get; } = new("good faces", false, "machined faces");

    /// <summary>What a piece is and how large.</summary>
    public static IReadOnlyList<Column> Kind { get; } =
    [
        new("form", true),
        new("material", true, "alloy", "grade"),
        new("thickness", false, "t"),
        new("width", false, "w", "side"),
        new("diameter", false, "dia", "d"),
        new("length", true, "l"),
    ];

    /// <summary>What a shop knows of a piece that it has.</summary>
    public static IReadOnlyList<Column> OfPiece { get; } =
    [
        new("clean edges", false, "clean"),
        new("keep outs", false, "damage", "holes"),
        GoodFaces,
        new("place", false, "shelf"),
        new("value", false, "cost"),
        new("note", false, "remark"),
    ];
}
