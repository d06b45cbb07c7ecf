namespace Nest.Solve;

/// <summary>Names of the methods that find bounds, as they stand in <c>plan.json</c> and in what <c>nest why</c> prints.</summary>
internal static class Methods
{
    public const string Size = "size of the blanks";
    public const string AnyNumberPerBlank = "size of the blanks, whatever the number per blank";
    public const string ColumnGeneration = "column generation";
    public const string WholePieces = "whole pieces of stock";
    public const string WholePiecesWithTerms = "whole pieces of stock with purchase terms";
    public const string LoadsWithinGap = "whole counts of stock, and every load within the gap";
    public const string LoadsWithinGapAndSettings = "whole counts of stock with settings, and every load within the gap";
    public const string EveryLayout = "every layout";
    public const string EverySetOfSuppliers = "every set of suppliers";
    public const string BarSize = "bars: size of the blanks";
    public const string BarTree = "bars: branch, price and cut";
    public const string PlateArea = "plates: area";
    public const string DualFeasibleFunctions = "plates: dual feasible functions";
    public const string PlateFleets = "plates: choices of plates";
}
