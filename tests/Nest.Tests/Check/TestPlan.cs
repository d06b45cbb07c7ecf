using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Puts layouts together into a plan with all its costs.</summary>
internal static class TestPlan
{
    /// <summary>A plan whose bound is half its cost (metal dearer as scrap than as stock can make that negative).</summary>
    public static Plan Of(Job job, params ImmutableArray<Layout> layouts)
    {
        var blanks = BlankSizer.Size(job);
        var priced = layouts.Select((layout, index) => Priced(job, blanks, layout) with { Number = index + 1 }).ToImmutableArray();
        var total = CostSheet.Total(job, priced);
        return new Plan
        {
            Job = job,
            Status = SolveStatus.BestFound,
            Layouts = priced,
            Orders = Purchasing.Orders(job, priced),
            TotalCost = total,
            Bound = Bound.Of(Money.FromUnits(total.Units - (Math.Abs(total.Units) / 2)), "a test"),
            PartCosts = CostSheet.PartCosts(job, blanks, priced),
        };
    }

    private static Layout Priced(Job job, ImmutableArray<Blank> blanks, Layout layout)
    {
        var stock = job.Stocks.First(stock => stock.Id == layout.StockId);
        var saw = job.SawFor(stock)!;
        var facing = Money.Zero;
        foreach (var piece in layout.Pieces)
        {
            facing += blanks.First(blank => blank.Part.Id == piece.PartId).Fits.First(fit => fit.StockId == stock.Id).ExtraCost;
        }

        return layout with { Cost = CostModel.Cost(job, stock, saw, layout, facing) };
    }

    /// <summary>A layout on a saw from a tree whose leaves say what they are.</summary>
    public static Layout OnSaw(Job job, string stockId, Func<Rect, TreeBuilder, CutNode> build, int count = 1)
    {
        var stock = job.Stocks.First(stock => stock.Id == stockId);
        var saw = job.SawFor(stock)!;
        var layout = Empty(job, stock, saw, count);
        var builder = new TreeBuilder(job, stock, saw, layout.Sheet);
        var tree = build(layout.Usable, builder);
        return layout with { Tree = tree, Pieces = [.. builder.Pieces], Offcuts = [.. builder.Offcuts] };
    }

    /// <summary>A layout on a cutter.</summary>
    public static Layout OnCutter(Job job, string stockId, params ImmutableArray<PlacedPiece> pieces)
    {
        var stock = job.Stocks.First(stock => stock.Id == stockId);
        return Empty(job, stock, job.SawFor(stock)!, 1) with { Pieces = pieces };
    }

    private static Layout Empty(Job job, Stock stock, Saw saw, int count) => new()
    {
        Number = 1,
        StockId = stock.Id,
        SawId = saw.Id,
        Count = count,
        Sheet = new(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth),
        Trims = saw.TrimsOn(stock),
        Pieces = [],
        Offcuts = [],
        Cost = default,
    };

    /// <summary>The good plan that other tests break: two plates and a bar, worked out by hand.</summary>
    public static Plan Good()
    {
        var job = Job(
            [
                Flat("bracket", 400, 300, 12, 5) with { MayTurn = false, Forms = Forms.Plate },
                Flat("tab", 200, 100, 12, 10) with { Forms = Forms.Plate },
                Flat("foot", 100, 34, 16, 10) with { Forms = Forms.FlatBar },
            ],
            [
                Plate("plate 15", 2000, 1000, 15) with { Available = 3 },
                Leftover("R1", 600, 400, 15),
                Bar("flat 40x20", Form.FlatBar, 40, 20),
                Plate("plate 12", 2000, 1000, 12),
            ]);
        return Of(
            job,
            OnSaw(job, "plate 15", (usable, tree) => tree.Split(usable, CutDirection.Rip,
                strip => tree.Split(strip(304), CutDirection.Crosscut, [.. tree.Row("bracket", 404, 4)]),
                strip => tree.Split(strip(204), CutDirection.Crosscut, [.. tree.Row("tab", 104, 10, turned: true)]))),
            OnSaw(job, "R1", (usable, tree) => tree.Split(usable, CutDirection.Rip,
                strip => tree.Split(strip(304), CutDirection.Crosscut, [.. tree.Row("bracket", 404, 1)]))),
            OnSaw(job, "flat 40x20", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("foot", 102, 10)])));
    }
}

/// <summary>Builds cut trees for tests: children one behind the other with a kerf between, the rest an offcut.</summary>
internal sealed class TreeBuilder(Job job, Stock stock, Saw saw, Rect sheet)
{
    public List<PlacedPiece> Pieces { get; } = [];

    public List<Offcut> Offcuts { get; } = [];

    /// <summary>A split; each child is asked for with a function that cuts off so many millimetres.</summary>
    public CutNode Split(Rect area, CutDirection direction, params Func<Func<decimal, Rect>, CutNode>[] children)
    {
        var nodes = new List<CutNode>();
        var rest = area;
        var rip = direction == CutDirection.Rip;
        foreach (var child in children)
        {
            Rect? taken = null;
            nodes.Add(child(millimetres =>
            {
                var size = Mm(millimetres);
                taken = rip ? rest with { SizeY = size } : rest with { SizeX = size };
                return taken.Value;
            }));
            rest = Behind(rest, taken!.Value, rip);
        }

        if ((rip ? rest.SizeY : rest.SizeX) > Length.Zero)
        {
            nodes.Add(Rest(rest));
        }

        return new CutNode { Kind = CutNodeKind.Split, Area = area, Direction = direction, Children = [.. nodes] };
    }

    public IEnumerable<Func<Func<decimal, Rect>, CutNode>> Row(string part, decimal size, int count, bool turned = false) =>
        Enumerable.Repeat<Func<Func<decimal, Rect>, CutNode>>(take => Piece(part, take(size), turned), count);

    public CutNode Piece(string part, Rect area, bool turned = false)
    {
        Pieces.Add(new(part, area, turned));
        return new CutNode { Kind = CutNodeKind.Piece, Area = area, Index = Pieces.Count - 1 };
    }

    public CutNode Rest(Rect area)
    {
        Offcuts.Add(CostModel.Judge(job, stock, area, sheet));
        return new CutNode { Kind = CutNodeKind.Offcut, Area = area, Index = Offcuts.Count - 1 };
    }

    /// <summary>What is left of an area behind one child and its kerf; empty when that is dust.</summary>
    public Rect Behind(Rect area, Rect child, bool rip) => rip
        ? area with { Y = child.Top + saw.Kerf, SizeY = area.Top - child.Top - saw.Kerf }
        : area with { X = child.Right + saw.Kerf, SizeX = area.Right - child.Right - saw.Kerf };
}
