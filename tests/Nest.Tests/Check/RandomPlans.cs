using System.Collections.Immutable;
using CsCheck;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Random layouts of through-cuts and the jobs that they answer: the layout comes first, and its leaves say which parts are
/// asked for. Knows nothing of the program's own packers.</summary>
internal static class RandomPlans
{
    /// <summary>Plans with one plate layout.</summary>
    public static Gen<Plan> Plates { get; } = Gen.Int[0, int.MaxValue - 1].Select(seed => Plate(new Random(seed)));

    /// <summary>Plans with one bar layout.</summary>
    public static Gen<Plan> Bars { get; } = Gen.Int[0, int.MaxValue - 1].Select(seed => BarPlan(new Random(seed)));

    private static Plan Plate(Random random)
    {
        var kerf = Length.FromNanometres(random.Next(500_000, 6_000_000));
        var trims = random.Next(3) == 0
            ? default
            : new EdgeTrims(Trim(random), Trim(random), Trim(random), Trim(random));
        var stock = TestShop.Plate("P", random.Next(200, 1500), random.Next(200, 900), 15, random.Next(1, 300)) with
        {
            RackMark = random.Next(3) == 0 ? "P" : null,
            CleanEdges = new(random.Next(2) == 0, false, random.Next(2) == 0, false),
        };
        var saw = PlateSaw with { Kerf = kerf, Trims = trims };
        var sheet = new Rect(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth);
        var left = saw.TrimsOn(stock);
        var usable = new Rect(left.Left, left.Bottom, sheet.SizeX - left.Left - left.Right, sheet.SizeY - left.Bottom - left.Top);
        var builder = new Builder(random, kerf);
        var tree = builder.Divide(usable, 0, random.Next(2) == 0 ? CutDirection.Rip : CutDirection.Crosscut);
        var held = Length.Min(builder.Held, Length.Min(usable.SizeX, usable.SizeY));
        saw = saw with { ShortestHeld = random.Next(2) == 0 ? Length.Zero : held };
        return Assemble(stock, saw, sheet, left, tree, builder, stock.IsLeftover ? 1 : random.Next(1, 4));
    }

    private static Plan BarPlan(Random random)
    {
        var kerf = Length.FromNanometres(random.Next(500_000, 3_000_000));
        var stock = Bar("B", Form.FlatBar, 40, 20, random.Next(300, 3000), random.Next(1, 90)) with
        {
            CleanEdges = new(random.Next(4) == 0, random.Next(3) == 0, false, false),
        };
        var saw = BarSaw with { Kerf = kerf, Trims = random.Next(3) == 0 ? default : new(Trim(random), Trim(random), default, default) };
        var sheet = new Rect(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth);
        var trims = saw.TrimsOn(stock);
        var usable = sheet with { X = trims.Left, SizeX = sheet.SizeX - trims.Left - trims.Right };
        var builder = new Builder(random, kerf);
        var tree = builder.Row(usable, fromRight: trims.Left > Length.Zero && stock.CleanEdges.Right);
        saw = saw with { ShortestHeld = random.Next(2) == 0 ? Length.Zero : builder.Held };
        return Assemble(stock, saw, sheet, trims, tree, builder, random.Next(1, 4));
    }

    private static Length Trim(Random random) => random.Next(4) == 0 ? Length.Zero : Length.FromNanometres(random.Next(1, 12_000_000));

    private static Plan Assemble(Stock stock, Saw saw, Rect sheet, EdgeTrims trims, CutNode tree, Builder builder, int count)
    {
        var parts = new Dictionary<string, Part>(StringComparer.Ordinal);
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var bar = stock.Form.IsBar();
        foreach (var (area, turned) in builder.Pieces)
        {
            // Back from blank to finished size: the usual allowances of the test shop are 2 mm a side, 1 mm an end and 1 mm a face.
            var (length, width) = turned && !bar ? (area.SizeY, area.SizeX) : (area.SizeX, area.SizeY);
            var part = bar
                ? Flat("", 1, 34, 16) with { Length = length - Mm(2), MayTurn = false, Forms = Forms.FlatBar }
                : Flat("", 1, 1, 12) with { Length = length - Mm(4), Width = width - Mm(4), MayTurn = turned, Forms = Forms.Plate };
            var id = $"{part.Length.Nanometres}x{part.Width.Nanometres}{(turned ? "t" : "")}";
            parts[id] = part with { Id = id, Quantity = (parts.TryGetValue(id, out var known) ? known.Quantity : 0) + count };
            pieces.Add(new(id, area, turned && !bar));
        }

        var job = Job([.. parts.Values], [stock], saw);
        var layout = new Layout
        {
            Number = 1,
            StockId = stock.Id,
            SawId = saw.Id,
            Count = count,
            Sheet = sheet,
            Trims = trims,
            Pieces = pieces.ToImmutable(),
            Tree = tree,
            Offcuts = [.. builder.Offcuts.Select(area => Nest.Core.Costing.CostModel.Judge(job, stock, area, sheet))],
            Cost = default,
        };
        return TestPlan.Of(job, layout);
    }

    private sealed class Builder(Random random, Length kerf)
    {
        private static readonly Length Smallest = Mm(8);

        // Few sizes, so that equal settings occur.
        private readonly Length[] palette = [.. Enumerable.Range(0, 5).Select(_ => Length.FromNanometres(random.NextInt64(8_000_000, 320_000_000)))];

        public List<(Rect Area, bool Turned)> Pieces { get; } = [];

        public List<Rect> Offcuts { get; } = [];

        /// <summary>The shortest of the longest children of all splits: what the clamp can ask for at most.</summary>
        public Length Held { get; private set; } = Length.MaxValue;

        /// <summary>Pieces one behind the other from the clean end, and what is left behind them; the longest last, so that all can be
        /// held that is.</summary>
        public CutNode Row(Rect area, bool fromRight)
        {
            var sizes = new List<Length>();
            var left = area.SizeX;
            while (left >= Smallest && (sizes.Count == 0 || random.Next(12) > 0))
            {
                var size = Length.Min(random.Next(6) == 0 ? left : palette[random.Next(palette.Length)], left);
                sizes.Add(size);
                left -= size + kerf;
            }

            sizes.Sort();
            Held = Length.Max(sizes[^1], left);
            var nodes = new List<CutNode>();
            var at = fromRight ? area.Right : area.X;
            foreach (var size in sizes)
            {
                at -= fromRight ? size : Length.Zero;
                Pieces.Add((area with { X = at, SizeX = size }, false));
                nodes.Add(new() { Kind = CutNodeKind.Piece, Area = Pieces[^1].Area, Index = Pieces.Count - 1 });
                at += fromRight ? -kerf : size + kerf;
            }

            if (left > Length.Zero)
            {
                nodes.Add(Offcut(area with { X = fromRight ? area.X : at, SizeX = left }));
            }

            if (fromRight)
            {
                nodes.Reverse();
            }

            return new() { Kind = CutNodeKind.Split, Area = area, Direction = CutDirection.Crosscut, Children = [.. nodes] };
        }

        public CutNode Divide(Rect area, int depth, CutDirection direction)
        {
            var rip = direction == CutDirection.Rip;
            var end = rip ? area.Top : area.Right;
            var at = rip ? area.Y : area.X;
            var nodes = new List<CutNode>();
            while (end - at >= Smallest)
            {
                var size = Length.Min(random.Next(6) == 0 ? end - at : palette[random.Next(palette.Length)], end - at);
                var rest = end - at - size;
                if (rest > Length.Zero && rest < kerf && random.Next(2) == 0)
                {
                    size = end - at;
                    rest = Length.Zero;
                }

                // What would be left is too small for anything but an offcut of its own.
                nodes.Add(Leaf(rip ? area with { Y = at, SizeY = size } : area with { X = at, SizeX = size }, depth, direction));
                at += size;
                if (rest <= kerf)
                {
                    break;
                }

                at += kerf;
                if (random.Next(12) == 0 || end - at < Smallest)
                {
                    nodes.Add(Offcut(rip ? area with { Y = at, SizeY = end - at } : area with { X = at, SizeX = end - at }));
                    break;
                }
            }

            if (nodes.Count == 0)
            {
                return Offcut(area);
            }

            Held = Length.Min(Held, nodes.Max(node => rip ? node.Area.SizeY : node.Area.SizeX));
            return new() { Kind = CutNodeKind.Split, Area = area, Direction = direction, Children = [.. nodes] };
        }

        private CutNode Leaf(Rect area, int depth, CutDirection direction)
        {
            if (depth < 3 && random.Next(3) > 0)
            {
                return Divide(area, depth + 1, direction == CutDirection.Rip ? CutDirection.Crosscut : CutDirection.Rip);
            }

            if (area.SizeX < Smallest || area.SizeY < Smallest || random.Next(8) == 0)
            {
                return Offcut(area);
            }

            Pieces.Add((area, random.Next(2) == 0));
            return new() { Kind = CutNodeKind.Piece, Area = area, Index = Pieces.Count - 1 };
        }

        private CutNode Offcut(Rect area)
        {
            Offcuts.Add(area);
            return new() { Kind = CutNodeKind.Offcut, Area = area, Index = Offcuts.Count - 1 };
        }
    }
}
