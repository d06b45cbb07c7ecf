using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>Masses in whole micrograms, so that books of a whole year add up to the gram.</summary>
internal static class PieceMass
{
    private const decimal Micrograms = 1_000_000_000m;

    /// <summary>Mass of a piece by nominal size. A hole in it is not subtracted: it is part of the scrap later.</summary>
    public static long Of(RackPiece piece, decimal density) => OfWhole(piece.ToStock(Money.Zero), density);

    public static long OfWhole(Stock stock, decimal density) => Round(Mass.Of(stock.Section, stock.Length, density));

    /// <summary>Mass of an area in plan view of a sheet of this stock (bar: length × width of the sheet).</summary>
    public static long OfArea(Stock stock, Rect sheet, Area area, decimal density)
    {
        if (!stock.Form.IsBar())
        {
            return Round(Mass.Of(area, stock.Thickness, density));
        }

        // Plan view of a bar is length × width of the sheet; every area on it spans the whole width.
        var length = Length.FromNanometres((long)(area.SquareNanometres / sheet.SizeY.Nanometres));
        return Round(Mass.Of(stock.Section, length, density));
    }

    private static long Round(Mass mass) => (long)decimal.Round(mass.Kilograms * Micrograms, MidpointRounding.AwayFromZero);
}
