namespace Nest.Solve.Plates.ThroughCut;

/// <summary>What a sheet costs: its plate, its cuts and its pieces, less what its rests are worth. In floating point: it steers a search, the plan itself is costed exactly.</summary>
/// <param name="plates">By stock.</param>
/// <param name="pieceCost">Of a piece of item i beside its metal and cuts, from stock s ([s, i]).</param>
internal sealed class SheetCosts(ThroughModel model, PlateRates[] plates, double[,] pieceCost)
{
    /// <summary>Weight of the squared rests that some piece fits into: what is free in one piece may become an offcut worth keeping.</summary>
    private const double RestWeight = 0.1;

    /// <summary>Mean cost of a plate by the kinds of plate that there are.</summary>
    public double MeanPlate { get; } = plates.Average(plate => plate.Cost);

    /// <summary>Whether settings of fence and stop count.</summary>
    public bool CountsSettings { get; } = plates.Any(plate => plate.Setting > 0);

    /// <summary>What a plate costs before anything is cut to.</summary>
    public double PlateCost(int stock) => plates[stock].Cost;

    /// <summary>Worth of a unit of area of an offcut that is kept.</summary>
    public double KeepWorth(int stock) => plates[stock].Keep;

    /// <summary>Of a piece beside its metal and cuts.</summary>
    public double PieceCost(int stock, int item) => pieceCost[stock, item];

    /// <summary>Its cost.</summary>
    public double Of(CutSheet sheet)
    {
        if (double.IsNaN(sheet.Cost))
        {
            sheet.Cost = Sum(sheet);
        }

        return sheet.Cost;
    }

    /// <summary>What its rests may become worth beyond what they are worth now: it steers a search, and is no part of the cost.</summary>
    public double Hopes(CutSheet sheet) => RestWeight * plates[sheet.Stock].Keep * sheet.RestSquares / ((double)model.StockWidth[sheet.Stock] * model.StockHeight[sheet.Stock]);

    /// <summary>What settings of fence and stop cost for it, once for all sheets cut alike; 0 where they are not counted.</summary>
    public double Settings(CutSheet sheet)
    {
        var plate = plates[sheet.Stock];
        if (double.IsNaN(sheet.Settings))
        {
            sheet.Settings = plate.Setting == 0 ? 0 : plate.Setting * (plate.Trims + SheetSettings.Of(sheet.Nodes));
        }

        return sheet.Settings;
    }

    private double Sum(CutSheet sheet)
    {
        var plate = plates[sheet.Stock];
        var cost = plate.Cost;
        foreach (ref readonly var node in sheet.Nodes)
        {
            if (node.Item >= 0)
            {
                cost += pieceCost[sheet.Stock, node.Item];
            }
            else if (node.Item == SheetNode.Rest)
            {
                cost -= Worth(plate, node.Width - model.Kerf, node.Height - model.Kerf);
            }

            // Of a set of parallel cuts each child but one has a cut behind it.
            if (node.Parent >= 0 && node.Item != SheetNode.Unused && node.Next >= 0)
            {
                var length = sheet.Nodes[node.Parent].Direction == CutSheet.Across ? node.Height : node.Width;
                cost += plate.Cut + (plate.CutLength * (length - model.Kerf));
            }
        }

        return cost;
    }

    private static double Worth(in PlateRates plate, long width, long height)
    {
        if (width <= 0 || height <= 0)
        {
            return 0;
        }

        var keep = Math.Max(width, height) >= plate.KeepLong && Math.Min(width, height) >= plate.KeepShort;
        return (double)width * height * (keep ? plate.Keep : plate.Scrap);
    }
}

/// <summary>What a plate costs, in money units and the problem's units of length.</summary>
/// <param name="Cost">Its price with loading, and what its trims cost less what they are worth.</param>
/// <param name="Cut">One cut, whatever its length.</param>
/// <param name="CutLength">A unit of length of a cut.</param>
/// <param name="Keep">A unit of area of an offcut worth keeping.</param>
/// <param name="Scrap">A unit of area of any other rest.</param>
/// <param name="KeepLong">Longer side of the smallest offcut worth keeping.</param>
/// <param name="KeepShort">Its shorter side.</param>
/// <param name="Setting">A setting of fence or stop; 0: not counted.</param>
/// <param name="Trims">Settings that its trims take.</param>
internal readonly record struct PlateRates(double Cost, double Cut, double CutLength, double Keep, double Scrap, long KeepLong, long KeepShort, double Setting, int Trims);
