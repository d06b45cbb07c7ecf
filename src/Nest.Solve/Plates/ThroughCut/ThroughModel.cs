using Nest.Core.Plans;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A through-cut problem in inflated sizes: one kerf is added to every blank and every plate, after which the kerf is gone
/// (a row of pieces fits exactly when the sum of its inflated lengths is at most the inflated length of the node it divides).</summary>
internal sealed class ThroughModel
{
    /// <summary>Stands for "any depth".</summary>
    public const int AnyDepth = 1 << 20;

    public ThroughModel(PlateProblem problem)
    {
        Problem = problem;
        Kerf = problem.Kerf;
        ItemCount = problem.Items.Length;
        StockCount = problem.Stocks.Length;
        Width = [.. problem.Items.Select(item => checked(item.SizeX + Kerf))];
        Height = [.. problem.Items.Select(item => checked(item.SizeY + Kerf))];
        Turns = [.. problem.Items.Select(item => item.MayTurn && item.SizeX != item.SizeY)];
        Demand = [.. problem.Items.Select(item => item.Demand)];
        Area = [.. Width.Zip(Height, (w, h) => (double)w * h)];
        StockWidth = [.. problem.Stocks.Select(stock => checked(stock.SizeX + Kerf))];
        StockHeight = [.. problem.Stocks.Select(stock => checked(stock.SizeY + Kerf))];
        StockCost = [.. problem.Stocks.Select(stock => stock.Cost)];
        StockLimit = [.. problem.Stocks.Select(stock => stock.Limit ?? int.MaxValue)];
        Stages = problem.Cutting.Stages ?? AnyDepth;
        Trimming = problem.Cutting.TrimmingCut;
        First = problem.Cutting.FirstCut switch { null => -1, CutDirection.Crosscut => CutSheet.Across, _ => CutSheet.Along };
        LargestCut = problem.Cutting.LargestCut ?? long.MaxValue;
        ShortestHeld = problem.Cutting.ShortestHeld;
        LeastWidth = long.MaxValue;
        LeastHeight = long.MaxValue;
        for (var i = 0; i < ItemCount; i++)
        {
            LeastWidth = Math.Min(LeastWidth, Turns[i] ? Math.Min(Width[i], Height[i]) : Width[i]);
            LeastHeight = Math.Min(LeastHeight, Turns[i] ? Math.Min(Width[i], Height[i]) : Height[i]);
        }

        HasPieceCost = problem.PieceCost is not null;
        Blank = [.. Enumerable.Range(0, StockCount).Select(s => BlankSheets.Of(this, s))];
        Fits = new bool[StockCount, ItemCount];
        for (var s = 0; s < StockCount; s++)
        {
            for (var i = 0; i < ItemCount; i++)
            {
                Fits[s, i] = StockLimit[s] > 0 && CostOf(s, i) != PlateProblem.Forbidden && Blank[s].Any(sheet => CanHold(sheet, i));
            }
        }
    }

    public PlateProblem Problem { get; }
    public long Kerf { get; }
    public int ItemCount { get; }
    public int StockCount { get; }

    /// <summary>Inflated sizes of the items.</summary>
    public long[] Width { get; }
    public long[] Height { get; }
    public bool[] Turns { get; }
    public int[] Demand { get; }

    /// <summary>Inflated area, for heuristics only.</summary>
    public double[] Area { get; }

    /// <summary>Inflated sizes of the plates.</summary>
    public long[] StockWidth { get; }
    public long[] StockHeight { get; }
    public long[] StockCost { get; }
    public int[] StockLimit { get; }

    public int Stages { get; }
    public bool Trimming { get; }

    /// <summary>Direction of the first cut as in <see cref="CutSheet"/>, −1: either.</summary>
    public int First { get; }
    public long LargestCut { get; }
    public long ShortestHeld { get; }

    /// <summary>Smallest sizes of any item as it may lie: a rest below them is useless.</summary>
    public long LeastWidth { get; }
    public long LeastHeight { get; }
    public bool HasPieceCost { get; }

    /// <summary>Per stock the empty sheets to start from: one, or several ways to cut round the keep-outs.</summary>
    public CutSheet[][] Blank { get; }

    /// <summary>Whether the kernel can place this item alone on this stock.</summary>
    public bool[,] Fits { get; }

    public long CostOf(int stock, int item) => Problem.PieceCost is { } cost ? cost[stock, item] : 0;

    /// <summary>Whether an item is so large that no way of cutting can take it from this stock (a proof, unlike !Fits).</summary>
    public bool NeverFits(int stock, int item) =>
        StockLimit[stock] == 0 || CostOf(stock, item) == PlateProblem.Forbidden
        || !((Width[item] <= StockWidth[stock] && Height[item] <= StockHeight[stock])
            || (Turns[item] && Height[item] <= StockWidth[stock] && Width[item] <= StockHeight[stock]));

    private bool CanHold(CutSheet sheet, int item) =>
        sheet.BestSpot(this, Width[item], Height[item], out _) || (Turns[item] && sheet.BestSpot(this, Height[item], Width[item], out _));
}
