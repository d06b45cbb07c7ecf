using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Output;

/// <summary>How the sample plans are made: parts, stock, and layouts by plain rules.</summary>
internal static partial class SamplePlans
{
    public static Job Shop(string name, LengthUnit unit) => new()
    {
        Name = name,
        Unit = unit,
        Materials =
        [
            Metal("6061-T651", "aluminium", 2700), Metal("304", "stainless", 7930), Metal("S235", "steel", 7850), Metal("S355", "steel", 7850),
            Metal("A36", "steel", 7850), Metal("1018", "steel", 7870), Metal("Mg-AZ31B", "magnesium", 1770),
        ],
        Parts = [],
        Stocks = [],
        Saws =
        [
            new Saw { Id = "router", Kind = SawKind.Cutter, Kerf = Mm(8), LargestThickness = Mm(6), Trims = new(Mm(20), Mm(20), Mm(20), Mm(20)), HourlyRate = 70 },
            new Saw { Id = "plate saw", Kind = SawKind.PlateSaw, Kerf = Mm(4), Trims = new(Mm(10), Mm(0), Mm(10), Mm(0)), HourlyRate = 55, HandlingMinutes = 1, SettingMinutes = 2 },
            new Saw { Id = "band saw", Kind = SawKind.BarSaw, Kerf = Mm(2.5m), Trims = new(Mm(8), Mm(0), Mm(0), Mm(0)), HourlyRate = 50, HandlingMinutes = 0.5m, SettingMinutes = 1 },
        ],
        OffcutRules = [new OffcutRule { KeepLength = Mm(250), KeepWidth = Mm(120) }],
    };

    private static Material Metal(string id, string family, decimal density) =>
        new() { Id = id, Family = family, Density = density, ScrapPricePerKilogram = 1.1m };

    private static Part Part(string id, string material, decimal length, decimal width, decimal thickness, int quantity) => new()
    {
        Id = id, MaterialId = material, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness), Quantity = quantity,
    };

    private static Stock Plate(string id, string material, decimal length, decimal width, decimal thickness, decimal price) => new()
    {
        Id = id, Form = Form.Plate, MaterialId = material, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness),
        MinLength = Mm(length), MinWidth = Mm(width), MinThickness = Mm(thickness), PiecePrice = Money.FromAmount(price), Supplier = "Halmetall (invented)",
    };

    private static Stock Bar(string id, Form form, string material, decimal length, decimal width, decimal thickness, decimal price) =>
        Plate(id, material, length, width, thickness, price) with { Form = form };

    private static Plan Finish(Job job, params ImmutableArray<Layout> layouts)
    {
        var numbered = layouts.Select((layout, index) =>
        {
            var stock = job.Stocks.First(one => one.Id == layout.StockId);
            var saw = job.Saws.First(one => one.Id == layout.SawId);
            return layout with { Number = index + 1, Cost = CostModel.Cost(job, stock, saw, layout, Money.FromAmount(layout.Pieces.Length * 0.35m)) };
        }).ToImmutableArray();
        var total = CostSheet.Total(job, numbered);
        var costs = numbered.SelectMany(layout => layout.Pieces.Select(piece => (piece.PartId, layout.Count)))
            .GroupBy(pair => pair.PartId)
            .Select(group => new PartCost(group.Key, group.Sum(pair => pair.Count), Money.FromAmount(group.Sum(pair => pair.Count) * 3.1m), Money.FromAmount(2), Money.FromAmount(1)))
            .ToImmutableArray();
        return new Plan
        {
            Job = job, Status = SolveStatus.BestFound, Layouts = numbered, TotalCost = total,
            Bound = Bound.Of(Money.FromUnits(total.Units - (total.Units / 40)), "a test"), PartCosts = costs,
        };
    }

    /// <summary>Pieces of the same width side by side in strips, strips one above the other; what does not fit is left out.</summary>
    private static Layout Shelves(Job job, string stockId, int count, string[] parts, int[] amounts)
    {
        var (stock, saw, layout) = Blank(job, stockId, count);
        var kerf = saw.Kerf;
        var usable = layout.Usable;
        var pieces = new List<PlacedPiece>();
        var offcuts = new List<Offcut>();
        var strips = new List<CutNode>();
        var y = usable.Y;
        for (var at = 0; at < parts.Length; at++)
        {
            var part = job.Parts.First(one => one.Id == parts[at]);
            var left = amounts[at];
            while (left > 0 && y + part.Width <= usable.Top)
            {
                var strip = new Rect(usable.X, y, usable.SizeX, part.Width);
                var nodes = new List<CutNode>();
                var x = usable.X;
                while (left > 0 && x + part.Length <= usable.Right)
                {
                    Add(nodes, new(part.Id, new(x, y, part.Length, part.Width), false));
                    x += part.Length + kerf;
                    left--;
                }

                // Whatever part still fits goes behind, so that strips of unlike pieces appear.
                for (var next = at + 1; next < parts.Length; next++)
                {
                    var other = job.Parts.First(one => one.Id == parts[next]);
                    while (amounts[next] > 0 && other.Width <= part.Width && x + other.Length <= usable.Right)
                    {
                        Lower(nodes, new(x, y, other.Length, part.Width), other);
                        x += other.Length + kerf;
                        amounts[next]--;
                    }
                }

                Rest(nodes, new(x, y, usable.Right - x, part.Width));
                strips.Add(new CutNode { Kind = CutNodeKind.Split, Area = strip, Direction = CutDirection.Crosscut, Children = [.. nodes] });
                y += part.Width + kerf;
            }
        }

        Rest(strips, new(usable.X, y, usable.SizeX, usable.Top - y));
        var tree = new CutNode { Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Rip, Children = [.. strips] };
        return layout with { Pieces = [.. pieces], Offcuts = [.. offcuts], Tree = tree };

        // A piece narrower than its strip takes one rip more.
        void Lower(List<CutNode> nodes, Rect slot, Part part)
        {
            var inner = new List<CutNode>();
            Add(inner, new(part.Id, slot with { SizeY = part.Width }, false));
            if (part.Width == slot.SizeY)
            {
                nodes.Add(inner[0]);
                return;
            }

            var above = slot.Y + part.Width + kerf;
            Rest(inner, slot with { Y = above, SizeY = slot.Top - above });
            nodes.Add(new CutNode { Kind = CutNodeKind.Split, Area = slot, Direction = CutDirection.Rip, Children = [.. inner] });
        }

        void Add(List<CutNode> nodes, PlacedPiece piece)
        {
            pieces.Add(piece);
            nodes.Add(new CutNode { Kind = CutNodeKind.Piece, Area = piece.Area, Index = pieces.Count - 1 });
        }

        void Rest(List<CutNode> nodes, Rect area)
        {
            if (area.SizeX > Length.Zero && area.SizeY > Length.Zero)
            {
                offcuts.Add(CostModel.Judge(job, stock, area, layout.Sheet));
                nodes.Add(new CutNode { Kind = CutNodeKind.Offcut, Area = area, Index = offcuts.Count - 1 });
            }
        }
    }

    private static Layout Row(Job job, string stockId, int count, (string Part, int Count)[] parts)
    {
        var (stock, saw, layout) = Blank(job, stockId, count);
        var usable = layout.Usable;
        var pieces = new List<PlacedPiece>();
        var nodes = new List<CutNode>();
        var x = usable.X;
        foreach (var (id, amount) in parts)
        {
            var part = job.Parts.First(one => one.Id == id);
            var length = part.Length + (part.Ends?.Beyond(saw.Kerf, job.Unit) ?? Length.Zero);
            for (var n = 0; n < amount; n++)
            {
                pieces.Add(new(id, new(x, Length.Zero, length, usable.SizeY), false) { Ends = part.Ends });
                nodes.Add(new CutNode { Kind = CutNodeKind.Piece, Area = pieces[^1].Area, Index = pieces.Count - 1 });
                x += length + saw.Kerf;
            }
        }

        var rest = new Rect(x, Length.Zero, usable.Right - x, usable.SizeY);
        ImmutableArray<Offcut> offcuts = rest.SizeX > Length.Zero ? [CostModel.Judge(job, stock, rest, layout.Sheet)] : [];
        if (offcuts.Length > 0)
        {
            nodes.Add(new CutNode { Kind = CutNodeKind.Offcut, Area = rest, Index = 0 });
        }

        return layout with
        {
            Pieces = [.. pieces],
            Offcuts = offcuts,
            Tree = new CutNode { Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut, Children = [.. nodes] },
        };
    }

    private static Layout Milled(Job job, string stockId, (string Part, int Count) what)
    {
        var (_, saw, layout) = Blank(job, stockId, 1);
        var part = job.Parts.First(one => one.Id == what.Part);
        var usable = layout.Usable;
        var pieces = new List<PlacedPiece>();
        var offcuts = new List<Offcut>();
        var x = usable.X;
        for (var n = 0; n < what.Count; n++)
        {
            var turned = n >= 2;
            pieces.Add(new(part.Id, turned ? new(x, usable.Y, part.Width, part.Length) : new(x, usable.Y + Mm(130 * n), part.Length, part.Width), turned));
            x += n == 0 ? Length.Zero : (turned ? part.Width : part.Length) + saw.Kerf;
        }

        offcuts.Add(new(new(x, usable.Y, usable.Right - x, usable.SizeY), true, Money.FromAmount(12)));
        return layout with { Pieces = [.. pieces], Offcuts = [.. offcuts] };
    }

    private static (Stock Stock, Saw Saw, Layout Layout) Blank(Job job, string stockId, int count)
    {
        var stock = job.Stocks.First(one => one.Id == stockId);
        var saw = job.SawFor(stock)!;
        return (stock, saw, new Layout
        {
            Number = 1, StockId = stock.Id, SawId = saw.Id, Count = count, Sheet = new(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth),
            Trims = saw.TrimsOn(stock), Pieces = [], Offcuts = [], Cost = default,
        });
    }
}
