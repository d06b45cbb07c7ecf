using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Output;

/// <summary>Plans made by a plain shelf rule, to have something to draw: our own shop that makes cargo-bike brackets. Prices and
/// suppliers are invented.</summary>
internal static class SamplePlans
{
    public static Length Mm(decimal value) => Length.FromMillimetres(value);

    public static Length In(decimal value) => Length.FromInches(value);

    /// <summary>The ordinary batch: plates, bars, a leftover, a cutter's plate.</summary>
    public static Plan Brackets(LengthUnit unit = LengthUnit.Millimetre)
    {
        var job = Shop("Cargo-bike brackets, batch of 12", unit) with
        {
            Parts =
            [
                Part("head-tube gusset", "6061-T651", 180, 95, 12, 24),
                Part("motor plate left", "6061-T651", 320, 210, 12, 12),
                Part("motor plate right", "6061-T651", 320, 210, 12, 12),
                Part("rack tab", "6061-T651", 80, 45, 12, 48),
                Part("rocker", "6061-T651", 140, 140, 12, 12),
                Part("axle spacer", "304", 38.5m, 30, 30, 60) with { Round = true },
                Part("pivot pin", "304", 92, 30, 30, 36) with { Round = true },
                Part("stay", "S235", 640, 40, 8, 8),
                Part("box floor stiffener", "6061-T651", 260, 120, 6, 4),
            ],
            Stocks =
            [
                Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m),
                Plate("R-07", "6061-T651", 900, 520, 12, 60m) with
                {
                    RackMark = "R-07", Place = "rack 2, slot 4", Supplier = null, Available = 1, CleanEdges = new(true, false, true, false),
                    KeepOuts = [new(Mm(700), Mm(400), Mm(80), Mm(60))],
                },
                Bar("RD30", Form.RoundBar, "304", 3000, 30, 30, 78.2m),
                Bar("FL40x8", Form.FlatBar, "S235", 6000, 40, 8, 24.9m),
                Plate("AL6-mill", "6061-T651", 1000, 500, 6, 88m),
            ],
        };
        return Finish(
            job,
            Shelves(job, "AL12-2x1", 2, ["motor plate left", "motor plate right", "rocker", "head-tube gusset"], [6, 6, 6, 12]),
            Shelves(job, "R-07", 1, ["rocker", "rack tab"], [3, 24]),
            Shelves(job, "AL12-2x1", 1, ["rack tab", "rocker"], [24, 3]),
            Row(job, "RD30", 1, [("axle spacer", 60)]),
            Row(job, "RD30", 2, [("pivot pin", 18), ("axle spacer", 2)]),
            Row(job, "FL40x8", 1, [("stay", 8)]),
            Milled(job, "AL6-mill", ("box floor stiffener", 4)));
    }

    /// <summary>An inch shop that reads sixteenths, with sizes that are not whole sixteenths.</summary>
    public static Plan Inches(int fraction = 16)
    {
        var job = Shop("Trailer hitch brackets", LengthUnit.Inch) with
        {
            InchFraction = fraction,
            Currency = "USD",
            Parts =
            [
                Part("cheek", "A36", 0, 0, 0, 8) with { Length = In(8.625m), Width = In(5.5m), Thickness = In(0.5m) },
                Part("tongue", "A36", 0, 0, 0, 4) with { Length = In(14.3m), Width = In(3.77m), Thickness = In(0.5m) },
                Part("pin", "1018", 0, 0, 0, 14) with { Length = In(4.25m), Width = In(1m), Thickness = In(1m), Round = true },
            ],
            Stocks =
            [
                Plate("PL1/2-48x24", "A36", 0, 0, 0, 96m) with { Length = In(48), Width = In(24), Thickness = In(0.5m), MinLength = In(48), MinWidth = In(24), MinThickness = In(0.49m) },
                Bar("RD1", Form.RoundBar, "1018", 0, 0, 0, 31m) with { Length = In(144), Width = In(1), Thickness = In(1), MinLength = In(144), MinWidth = In(1), MinThickness = In(1) },
            ],
        };
        return Finish(job, Shelves(job, "PL1/2-48x24", 1, ["tongue", "cheek"], [4, 8]), Row(job, "RD1", 1, [("pin", 14)]));
    }

    /// <summary>Three hundred small pieces on one plate.</summary>
    public static Plan ManySmall()
    {
        var parts = Enumerable.Range(1, 12).Select(n => Part($"clip {n:00}", "6061-T651", 20 + (n * 3), 14 + n, 12, 25)).ToImmutableArray();
        var job = Shop("Stress: 300 small pieces", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m)],
        };
        return Finish(job, Shelves(job, "AL12-2x1", 1, [.. parts.Select(part => part.Id)], [.. parts.Select(_ => 25)]));
    }

    /// <summary>One huge piece and one tiny one.</summary>
    public static Plan HugeAndTiny()
    {
        var job = Shop("Stress: huge and tiny", LengthUnit.Millimetre) with
        {
            Parts = [Part("base", "S355", 2850, 1400, 30, 1), Part("shim", "S355", 12, 9, 30, 1)],
            Stocks = [Plate("S30-3x15", "S355", 3000, 1500, 30, 1890m)],
        };
        return Finish(job, Shelves(job, "S30-3x15", 1, ["base", "shim"], [1, 1]));
    }

    /// <summary>Very long names in Greek and Chinese, one that looks like a formula, and characters that no font has.</summary>
    public static Plan LongNames()
    {
        string[] names =
        [
            "Βραχίονας στήριξης κινητήρα φορτηγού ποδηλάτου αριστερός, τελική έκδοση",
            "货运自行车电机安装支架左侧加强板第三版最终稿",
            "=HYPERLINK(\"x\") bracket",
            "a-name-without-any-blank-that-goes-on-and-on-and-on-for-much-longer-than-it-should",
            "odd \U0001F6B2 \uA66E mark",
            "κόμβος",
        ];
        var parts = names.Select((name, n) => Part(name, "Mg-AZ31B", 300 - (n * 35), 160 - (n * 18), 10, 6)).ToImmutableArray();
        var job = Shop("Μεγάλα ονόματα 很长的名字 and a job name that is itself far too long to go into any title block", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("MG10-15x1", "Mg-AZ31B", 1500, 1000, 10, 612m)],
        };
        return Finish(job, Shelves(job, "MG10-15x1", 3, [.. names], [.. names.Select(_ => 5)]));
    }

    /// <summary>More than a hundred different parts on one plate.</summary>
    public static Plan HundredParts()
    {
        var parts = Enumerable.Range(1, 110).Select(n => Part($"bracket {n:000}", "6061-T651", 60 + (n * 37 % 90), 40 + (n * 53 % 60), 12, 1)).ToImmutableArray();
        var job = Shop("Stress: 110 parts", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m)],
        };
        return Finish(job, Shelves(job, "AL12-2x1", 1, [.. parts.OrderByDescending(part => part.Width.Nanometres).Select(part => part.Id)], [.. parts.Select(_ => 1)]));
    }

    public static IEnumerable<(string Name, Plan Plan)> All()
    {
        yield return ("brackets", Brackets());
        yield return ("inches", Inches());
        yield return ("many", ManySmall());
        yield return ("huge", HugeAndTiny());
        yield return ("names", LongNames());
        yield return ("hundred", HundredParts());
    }

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
            LowerBound = Money.FromUnits(total.Units - (total.Units / 40)), PartCosts = costs,
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
            var length = job.Parts.First(one => one.Id == id).Length;
            for (var n = 0; n < amount; n++)
            {
                pieces.Add(new(id, new(x, Length.Zero, length, usable.SizeY), false));
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
            Pieces = [.. pieces], Offcuts = offcuts,
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
