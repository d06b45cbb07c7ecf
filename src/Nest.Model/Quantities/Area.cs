namespace Nest.Core.Quantities;

/// <summary>An area in whole square nanometres, held in 128 bits: a 4 m × 3 m plate is 1.2e19 nm² and would not fit 64.</summary>
public readonly record struct Area : IComparable<Area>
{
    private Area(Int128 squareNanometres) => SquareNanometres = squareNanometres;

    /// <summary>The area as a whole number of square nanometres.</summary>
    public Int128 SquareNanometres { get; }

    public static Area Zero => default;

    public static Area FromSquareNanometres(Int128 squareNanometres) => new(squareNanometres);

    /// <summary>Square millimetres, exact.</summary>
    public decimal ToSquareMillimetres() => (decimal)SquareNanometres / 1_000_000_000_000m;

    /// <summary>Square centimetres, exact.</summary>
    public decimal ToSquareCentimetres() => (decimal)SquareNanometres / 100_000_000_000_000m;

    /// <summary>Square metres, exact.</summary>
    public decimal ToSquareMetres() => (decimal)SquareNanometres / 1_000_000_000_000_000_000m;

    /// <summary>This area as a share of another (0 … 1 for a part of it).</summary>
    public decimal ShareOf(Area whole) => (decimal)SquareNanometres / (decimal)whole.SquareNanometres;

    public static Area operator +(Area a, Area b) => new(checked(a.SquareNanometres + b.SquareNanometres));

    public static Area operator -(Area a, Area b) => new(checked(a.SquareNanometres - b.SquareNanometres));

    public static Area operator *(Area a, int times) => new(checked(a.SquareNanometres * times));

    public static bool operator <(Area a, Area b) => a.SquareNanometres < b.SquareNanometres;

    public static bool operator >(Area a, Area b) => a.SquareNanometres > b.SquareNanometres;

    public static bool operator <=(Area a, Area b) => a.SquareNanometres <= b.SquareNanometres;

    public static bool operator >=(Area a, Area b) => a.SquareNanometres >= b.SquareNanometres;

    public int CompareTo(Area other) => SquareNanometres.CompareTo(other.SquareNanometres);
}
