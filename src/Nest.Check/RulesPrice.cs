using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The price of a piece follows from the price as it was given, its basis, the nominal size and the density.</summary>
internal static class RulesPrice
{
    // The international foot and pound of 1959, exact.
    private const decimal MetresPerFoot = 0.3048m;
    private const decimal KilogramsPerPound = 0.45359237m;
    private const decimal HighestPrice = 1_000_000_000m;

    public static void PiecePrices(PlanFacts facts)
    {
        foreach (var stock in facts.Stocks.Values)
        {
            var where = $"stock {stock.Id}";
            if (stock.UnitPrice is < 0m or > HighestPrice || stock.PiecePrice < Money.Zero)
            {
                facts.Add("job-value", where, "a price is out of range");
            }
            else if (stock.CutFrom is { } row && (stock.CutFor is null || row.Charges < Money.Zero || row.Length <= Length.Zero || row.Width <= Length.Zero))
            {
                facts.Add("job-value", where, "what it is cut from cannot be: it is not cut to size, the row has no size, or the charges are below zero");
            }
            else if (IsTold(stock) && facts.Materials.TryGetValue(stock.MaterialId, out var material))
            {
                Compare(facts, stock, where, (stock.UnitPrice * Quantity(stock, material)) + (stock.CutFrom?.Charges.Amount ?? 0m));
            }
        }
    }

    /// <summary>A price per piece of zero stands where nobody said how the price was made.</summary>
    private static bool IsTold(Stock stock) => stock.PriceBasis != PriceBasis.Piece || stock.UnitPrice != 0m;

    private static void Compare(PlanFacts facts, Stock stock, string where, decimal amount)
    {
        // Files before version 3 list neither the charges of a piece cut to size nor the size by which a price per whole piece is shared.
        var right = stock.CutFor is null || stock.CutFrom is not null
            ? stock.PiecePrice == Amounts.Nearest(amount)
            : stock.PriceBasis == PriceBasis.Piece || stock.PiecePrice >= Amounts.Nearest(amount);
        if (!right)
        {
            facts.Add("piece-price", where, $"the piece is given as {stock.PiecePrice.Amount}, {stock.UnitPrice} per {stock.PriceBasis} make {amount}");
        }
    }

    /// <summary>How many of what the price is for one piece has.</summary>
    private static decimal Quantity(Stock stock, Material material)
    {
        var metres = stock.Length.Nanometres / 1_000_000_000m;
        var squareMetres = metres * (stock.Width.Nanometres / 1_000_000_000m);
        return stock.PriceBasis switch
        {
            PriceBasis.Metre => metres,
            PriceBasis.Foot => metres / MetresPerFoot,
            PriceBasis.SquareMetre => squareMetres,
            PriceBasis.SquareFoot => squareMetres / (MetresPerFoot * MetresPerFoot),
            PriceBasis.Kilogram => Kilograms(),
            PriceBasis.Pound => Kilograms() / KilogramsPerPound,
            // A price of the whole row is shared by area; of bars the widths are equal, so by length.
            _ => stock.CutFrom is { } row
                ? (decimal)((Int128)stock.Length.Nanometres * stock.Width.Nanometres) / (decimal)((Int128)row.Length.Nanometres * row.Width.Nanometres)
                : 1m,
        };

        decimal Kilograms() => ExpectedBlanks.Whole(stock).ToSquareMetres() * metres * material.Density;
    }
}
