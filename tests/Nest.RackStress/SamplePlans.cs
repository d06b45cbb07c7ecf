using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.RackStress;

/// <summary>Small plans built by hand, with real trims, kerfs and offcuts. Prices are invented.</summary>
internal static class SamplePlans
{
    public static readonly Material Aluminium = new() { Id = "6061-T651", Family = "aluminium", Density = 2700m, ScrapPricePerKilogram = 1.2m };

    public static readonly Material Steel = new() { Id = "1018", Family = "steel", Density = 7870m, ScrapPricePerKilogram = 0.15m };

    public static readonly Saw PlateSaw = new()
    {
        Id = "plate saw", Kind = SawKind.PlateSaw, Kerf = Mm(3.2m), Trims = new(Mm(5), Mm(5), Mm(5), Mm(5)), HourlyRate = 60m, HandlingMinutes = 1m,
    };

    public static readonly Saw BarSaw = new()
    {
        Id = "bar saw", Kind = SawKind.BarSaw, Kerf = Mm(1.3m), Trims = new(Mm(10), Mm(10), default, default), HourlyRate = 50m, HandlingMinutes = 1m,
    };

    public static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);

    public static Stock Plate(string id, decimal length, decimal width, decimal thickness, decimal price) => new()
    {
        Id = id, Form = Form.Plate, MaterialId = Aluminium.Id, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness),
        MinLength = Mm(length), MinWidth = Mm(width), MinThickness = Mm(thickness - 0.2m), PiecePrice = Money.FromAmount(price),
        UnitPrice = price, Supplier = "Kestrel Metals (invented)",
    };

    public static Stock FlatBar(string id, decimal length, decimal width, decimal thickness, decimal price) => new()
    {
        Id = id, Form = Form.FlatBar, MaterialId = Steel.Id, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness),
        MinLength = Mm(length), MinWidth = Mm(width - 0.1m), MinThickness = Mm(thickness - 0.1m), PiecePrice = Money.FromAmount(price),
        UnitPrice = price, Supplier = "Kestrel Metals (invented)",
    };

    public static Part Part(string id, string material, decimal length, decimal width, decimal thickness, int quantity) => new()
    {
        Id = id, MaterialId = material, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness), Quantity = quantity,
    };

    public static Job Job(string name, IEnumerable<Part> parts, IEnumerable<Stock> stocks) => new()
    {
        Name = name,
        Materials = [Aluminium, Steel],
        Parts = [.. parts],
        Stocks = [.. stocks],
        Saws = [PlateSaw, BarSaw],
        OffcutRules = [new() { Form = Form.Plate, KeepLength = Mm(120), KeepWidth = Mm(60) }, new() { KeepLength = Mm(200) }],
    };

    /// <summary>A grid of equal blanks from the lower left corner: columns by crosscuts, each column ripped into rows.</summary>
    public static Layout Grid(Job job, Stock stock, int number, int count, Part part, int columns, int rows)
    {
        var saw = job.SawFor(stock)!;
        var bar = stock.Form.IsBar();
        var sheet = new Rect(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth);
        var trims = saw.TrimsOn(stock);
        var usable = new Rect(
            trims.Left, trims.Bottom, sheet.SizeX - trims.Left - trims.Right, sheet.SizeY - trims.Bottom - trims.Top);
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        var height = bar ? usable.SizeY : part.Width;
        var children = Divide(usable, CutDirection.Crosscut, part.Length, columns, saw.Kerf, Column);
        var layout = new Layout
        {
            Number = number, StockId = stock.Id, SawId = saw.Id, Count = count, Sheet = sheet, Trims = trims, Pieces = pieces.ToImmutable(),
            Tree = new() { Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut, Children = children },
            Offcuts = offcuts.ToImmutable(), Cost = default,
        };
        return layout with { Cost = CostModel.Cost(job, stock, saw, layout, Money.Zero) };

        CutNode Column(Rect area) => bar
            ? Piece(area)
            : new() { Kind = CutNodeKind.Split, Area = area, Direction = CutDirection.Rip, Children = Divide(area, CutDirection.Rip, height, rows, saw.Kerf, Piece) };

        CutNode Piece(Rect area)
        {
            pieces.Add(new(part.Id, area, false));
            return new() { Kind = CutNodeKind.Piece, Area = area, Index = pieces.Count - 1 };
        }

        ImmutableArray<CutNode> Divide(Rect area, CutDirection direction, Length step, int times, Length kerf, Func<Rect, CutNode> child)
        {
            var nodes = ImmutableArray.CreateBuilder<CutNode>();
            var cross = direction == CutDirection.Crosscut;
            var at = cross ? area.X : area.Y;
            var end = cross ? area.Right : area.Top;
            for (var i = 0; i < times; i++)
            {
                nodes.Add(child(cross ? area with { X = at, SizeX = step } : area with { Y = at, SizeY = step }));
                at += step + kerf;
            }

            if (at < end)
            {
                var rest = cross ? area with { X = at, SizeX = end - at } : area with { Y = at, SizeY = end - at };
                offcuts.Add(CostModel.Judge(job, stock, rest, sheet));
                nodes.Add(new() { Kind = CutNodeKind.Offcut, Area = rest, Index = offcuts.Count - 1 });
            }

            return nodes.ToImmutable();
        }
    }

    public static Plan Plan(Job job, params ReadOnlySpan<Layout> layouts)
    {
        var cost = Money.Zero;
        foreach (var layout in layouts)
        {
            cost += layout.Cost.Total * layout.Count;
        }

        return new() { Job = job, Status = SolveStatus.BestFound, Layouts = [.. layouts], TotalCost = cost, Bound = Bound.None };
    }
}
