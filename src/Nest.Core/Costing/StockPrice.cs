using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>The price of one piece of stock from a price per piece, length, area or mass.</summary>
/// <remarks>Computed once, when the catalogue is read, by nominal size and nominal density, unrounded until the one rounding to
/// <see cref="Money"/>: 3.925 kg/m is not first rounded to 3.93. Mass of a round bar is that of its circle.</remarks>
public static class StockPrice
{
    private const decimal MetresPerFoot = 0.3048m;

    /// <param name="basis">What the price is for.</param>
    /// <param name="price">Price per that, in the job's currency.</param>
    /// <param name="stock">Form and nominal sizes; its price is not looked at.</param>
    /// <param name="material">Its density.</param>
    public static Money PerPiece(PriceBasis basis, decimal price, Stock stock, Material material) =>
        Money.FromAmount(price * Amount(basis, stock, material));

    /// <summary>How much of the basis one piece has.</summary>
    public static decimal Amount(PriceBasis basis, Stock stock, Material material) => basis switch
    {
        PriceBasis.Piece => 1m,
        PriceBasis.Metre => stock.Length.ToMetres(),
        PriceBasis.Foot => stock.Length.ToMetres() / MetresPerFoot,
        PriceBasis.SquareMetre => (stock.Length * stock.Width).ToSquareMetres(),
        PriceBasis.SquareFoot => (stock.Length * stock.Width).ToSquareMetres() / (MetresPerFoot * MetresPerFoot),
        PriceBasis.Kilogram => stock.PieceMass(material).Kilograms,
        PriceBasis.Pound => stock.PieceMass(material).ToPounds(),
        _ => throw new ArgumentOutOfRangeException(nameof(basis), basis, "Not a price basis."),
    };
}
