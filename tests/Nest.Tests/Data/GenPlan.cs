using System.Collections.Immutable;
using CsCheck;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Any = CsCheck.Gen;

namespace Nest.Tests.Data;

/// <summary>Plans for round trips: every field takes values, names lead somewhere. They are not good plans, nor correct ones.</summary>
internal static class GenPlan
{
    private static readonly Gen<string> Word = Any.OneOf("a", "b \"quoted\"", "ünï 1/2\"", "<tag> & 'x'", "line\nbreak", "日本", "x,y;z");

    private static readonly Gen<Length> Size = Any.Long[1, 3_000_000_000].Select(Length.FromNanometres);

    private static readonly Gen<Length> Distance = Any.Long[0, 50_000_000].Select(Length.FromNanometres);

    private static readonly Gen<Money> Amount = Any.Long[0, 99_999_999].Select(Money.FromUnits);

    private static readonly Gen<decimal> Rate = Any.Int[1, 99_999].Select(cents => cents / 100m);

    private static readonly Gen<Rect> Area = Any.Select(Distance, Distance, Size, Size).Select((x, y, w, h) => new Rect(x, y, w, h));

    private static readonly Gen<AllowanceOverrides> Overrides = Any.Select(
        Any.Bool, Any.Bool, Distance, Distance, Distance).Select((some, other, a, b, c) => new AllowanceOverrides
        {
            SideCleanUp = some ? a : null,
            EndCleanUp = other ? b : null,
            FaceTop = some ? c : null,
            FaceBottom = other ? a : null,
            Grip = some && other ? b : null,
        });

    private static readonly Gen<Part> Parts = Any.Select(
        Any.Select(Size, Size, Size), Any.Int[1, 50], Any.Int[0, 9], Any.Select(Any.Bool, Any.Bool, Any.Bool, Any.Bool),
        Any.Int[1, 15], Any.Int[0, 3], Overrides, Word)
        .Select((size, quantity, extra, flags, forms, holding, own, note) => new Part
        {
            Id = "",
            MaterialId = "M",
            Round = flags.Item1,
            Length = size.Item1,
            Width = size.Item2,
            Thickness = size.Item3,
            Quantity = quantity,
            Extra = extra,
            FreeSpares = extra % 3,
            Forms = (Forms)forms,
            MayTurn = flags.Item2,
            Holding = (Holding)holding,
            MillFaces = flags.Item3,
            MillSides = flags.Item4,
            Allowances = flags.Item1 ? own : null,
            OneStock = flags.Item2,
            OneSize = flags.Item3,
            Certificate = flags.Item4,
            PerBlank = quantity % 3 == 0 ? new() { Counts = [1, 2], Gap = size.Item1, With = quantity % 2 == 0 ? note : null } : null,
            Gang = quantity % 6 == 0 ? new() { Rows = 1, Columns = 2, Blanks = quantity, Rest = flags.Item4, Members = [new(note, 1, quantity), new("b", 1, quantity)] } : null,
            Note = note,
        }).Select(part => part.Quantity % 5 == 0 && part.Width.Nanometres > 9 && part.Thickness.Nanometres > 9
            ? part with { Round = false, Forms = Forms.Tee, Detail = new() { Wall = Length.FromNanometres(1) } }
            : part);

    private static readonly Gen<Stock> Stocks = Any.Select(
        Any.Select(Size, Size, Size), Any.Int[0, 3], Any.Select(Amount, Rate), Any.Int[0, 5], Any.Int[0, 6],
        Any.Select(Any.Bool, Any.Bool, Any.Bool), Area.Array[0, 2], Word)
        .Select((size, form, price, available, basis, flags, keepOuts, word) => AsSection(basis == 6, flags.Item3, word, new Stock
        {
            Id = "",
            Form = (Form)form,
            MaterialId = "M",
            Length = size.Item1,
            Width = size.Item2,
            Thickness = size.Item3,
            MinLength = size.Item1,
            MinWidth = Length.FromNanometres((size.Item2.Nanometres + 1) / 2),
            MinThickness = size.Item3,
            PiecePrice = price.Item1,
            PriceBasis = (PriceBasis)basis,
            UnitPrice = price.Item2,
            CutFrom = flags.Item3 ? new(size.Item1, size.Item2, price.Item1) : null,
            Available = available == 0 ? null : available,
            Supplier = flags.Item1 ? word : null,
            RackMark = flags.Item1 ? null : word,
            Heat = flags.Item2 ? word : null,
            Entered = flags.Item3 ? new DateOnly(2026, 1, 1).AddDays(basis * 50) : null,
            UseFirst = flags.Item2 && !flags.Item1,
            Place = flags.Item2 ? word : null,
            CleanEdges = new(flags.Item1, flags.Item2, flags.Item3, flags.Item1),
            Terms = flags.Item2
                ? PriceTerms.None
                : new() { Rule = (BreakRule)(basis % 2), Breaks = [new(2 + basis, price.Item1)], LineMinimum = price.Item1 },
            KeepOuts = [.. keepOuts],
            GoodFaces = flags.Item3,
            Source = word,
        }));

    /// <summary>Some stock is a channel, or a profile whose listed metal is half of what its outer sizes hold.</summary>
    private static Stock AsSection(bool section, bool named, string name, Stock stock)
    {
        var wall = Length.FromNanometres(Length.Min(stock.Width, stock.Thickness).Nanometres / 5);
        var half = (Int128)stock.Width.Nanometres * stock.Thickness.Nanometres / 2_000_000 * 1_000_000;
        if (!section || wall <= Length.Zero || half == 0)
        {
            return stock;
        }

        return named
            ? stock with { Form = Form.Profile, Detail = new() { Name = "p" + name }, ListedSection = Nest.Core.Quantities.Area.FromSquareNanometres(half) }
            : stock with { Form = Form.Channel, Detail = new() { Wall = wall, Flange = Length.FromNanometres(wall.Nanometres + 1) } };
    }

    private static readonly Gen<Saw> Saws = Any.Select(
        Any.Int[0, 2], Distance, Any.Select(Distance, Distance, Distance, Distance), Any.Int[0, 4], Any.Select(Rate, Rate, Rate), Size, Any.Bool)
        .Select((kind, kerf, trims, optional, rates, size, flag) => new Saw
        {
            Id = "",
            Kind = (SawKind)kind,
            Kerf = kerf,
            Trims = new(trims.Item1, trims.Item2, trims.Item3, trims.Item4),
            ShortestHeld = trims.Item1,
            LargestCut = flag ? size : null,
            LargestThickness = flag ? null : size,
            LongestStock = optional == 4 ? size : null,
            MostPieces = optional == 0 ? null : optional,
            Stages = optional < 3 ? null : optional,
            TrimmingCut = flag,
            FirstCut = optional == 1 ? null : (CutDirection)(optional % 2),
            HourlyRate = rates.Item1,
            ChargePerCut = rates.Item2,
            HandlingMinutes = rates.Item3,
            SettingMinutes = rates.Item1,
            LoadMinutes = flag ? rates.Item2 : 0,
            CutRates = flag ? [new("steel", rates.Item2)] : [],
            DefaultCutRate = rates.Item3,
            StackHeight = trims.Item2,
        });

    private static readonly Gen<Job> Jobs = Any.Select(
        Word, Any.Int[0, 6], Any.Int[1, 30], Parts.Array[1, 5], Stocks.Array[1, 5], Saws.Array[1, 3], Any.Select(Rate, Size, Overrides), Any.Bool)
        .Select((name, fraction, batch, parts, stocks, saws, rest, flag) => new Job
        {
            Name = name,
            Currency = flag ? "EUR" : "USD",
            Unit = flag ? LengthUnit.Millimetre : LengthUnit.Inch,
            InchFraction = fraction == 0 ? 0 : 1 << fraction,
            Batch = batch,
            Together = batch % 7 == 0 ? [new(name.Replace("/", "-", StringComparison.Ordinal), batch)] : [],
            Materials =
            [
                new() { Id = "M", Family = "steel", Density = 7850.5m, DensitySource = name, Aliases = flag ? ["m1", "m 2"] : [], ScrapPricePerKilogram = rest.Item1 },
            ],
            Parts = [.. parts.Select((part, i) => part with { Id = $"part {i}" })],
            Stocks = [.. stocks.Select((stock, i) => stock with { Id = $"stock {i}", CutFor = stock.CutFrom is null ? null : "part 0" })],
            Saws = [.. saws.Select((saw, i) => saw with { Id = $"saw {i}" })],
            AllowanceRules = [new() { Family = flag ? "steel" : null, Holding = flag ? Holding.Chuck : null, MaterialId = flag ? null : "M", Allowances = rest.Item3 }],
            Suppliers = flag ? [] : [new() { Name = name, MinimumOrder = Money.FromUnits(batch), FreeDeliveryFrom = Money.FromUnits(7), LeadDays = batch, GivesCertificates = fraction > 2 }],
            MostSuppliers = flag ? 2 : null,
            UseFirst = fraction < 3 ? null : new() { Names = flag ? [name] : [], OlderThanDays = flag ? null : batch },
            Fuss = fraction % 2 == 0 ? Fuss.None : new()
            {
                HourlyRate = rest.Item1, OrderLineMinutes = batch, SupplierMinutes = flag ? 0 : fraction, FurtherSizeMinutes = flag ? fraction : 0.5m,
            },
            OffcutRules = [new() { Form = flag ? Form.FlatBar : null, MaterialId = flag ? "M" : null, KeepLength = rest.Item2, KeepWidth = rest.Item2, Fraction = 0.55m }],
            Mill = new() { HourlyRate = rest.Item1, RemovalRates = [new("steel", rest.Item1)], DefaultRemovalRate = rest.Item1, BlankMinutes = flag ? 0 : 2, ViseOpening = flag ? rest.Item2 : null, TravelX = rest.Item2 },
            LiftLimit = new(rest.Item1),
            LongBar = rest.Item2,
        });

    private static readonly Gen<(PlacedPiece[] Pieces, Offcut[] Offcuts, int Shape)> Contents = Any.Select(
        Any.Select(Area, Any.Bool, Any.Int[0, 99]).Array[1, 6], Any.Select(Area, Any.Bool, Amount).Array[1, 3], Any.Int[0, int.MaxValue - 1])
        .Select((pieces, offcuts, shape) => (
            pieces.Select(piece => new PlacedPiece($"{piece.Item3}", piece.Item1, piece.Item2) { Spare = piece.Item3 % 7 == 0 }).ToArray(),
            offcuts.Select(offcut => new Offcut(offcut.Item1, offcut.Item2, offcut.Item3)).ToArray(),
            shape));

    public static Gen<Plan> Plans { get; } = Any.Select(
        Jobs, Any.Select(Contents, Any.Int[0, 99], Any.Int[1, 9], Any.Select(Amount, Amount, Amount), Any.Bool).Array[0, 4], Amount, Amount,
        Any.Int[0, 3], Any.Int[0, 1000])
        .Select((job, layouts, cost, bound, status, seed) => new Plan
        {
            Job = job,
            Status = (SolveStatus)status,
            Layouts = [.. layouts.Select((layout, i) => Layout(job, i + 1, layout.Item1, layout.Item2, layout.Item3, layout.Item4, layout.Item5))],
            Unplaced = status == 3 ? [new(job.Parts[0].Id, 2, "because\t\"so\"")] : [],
            TotalCost = cost,
            SpareCost = seed % 2 == 0 ? bound : Money.Zero,
            Bound = seed % 3 == 0 ? Bound.None : Bound.Of(bound, "a test"),
            Orders = seed % 2 == 0 ? [] : [new(job.Name, [new(job.Stocks[0].Id, 2, cost, bound)], cost, bound, cost)],
            PartCosts = [.. job.Parts.Select(part => new PartCost(part.Id, part.Quantity, cost, bound, cost))],
            Seconds = seed / 8.0,
            Seed = seed,
        });

    /// <summary>A small plan whose numbers tests know.</summary>
    public static Plan Small()
    {
        var sheet = Box(0, 0, 500, 300);
        var first = new Rect(Length.Zero, Length.Zero, Length.FromMillimetres(120.000001m), Length.FromMillimetres(300));
        var second = Box(124, 0, 100, 300);
        var left = Box(228, 0, 272, 300);
        return new()
        {
            Job = new()
            {
                Name = "Small",
                Materials = [new() { Id = "M", Family = "aluminium", Density = 2700 }],
                Parts = [Part("a", 3), Part("b", 1)],
                Stocks =
                [
                    new()
                    {
                        Id = "plate",
                        Form = Form.Plate,
                        MaterialId = "M",
                        Length = sheet.SizeX,
                        Width = sheet.SizeY,
                        Thickness = Length.FromMillimetres(10),
                        MinLength = sheet.SizeX,
                        MinWidth = sheet.SizeY,
                        MinThickness = Length.FromMillimetres(9.7m),
                        PiecePrice = Money.FromAmount(12.75m),
                        Supplier = "Demo",
                    },
                ],
                Saws = [new() { Id = "saw", Kind = SawKind.PlateSaw, Kerf = Length.FromMillimetres(3) }],
            },
            Status = SolveStatus.BestFound,
            TotalCost = Money.FromAmount(10),
            Bound = Bound.Of(Money.FromAmount(8), "a test"),
            Layouts =
            [
                new()
                {
                    Number = 1,
                    StockId = "plate",
                    SawId = "saw",
                    Count = 2,
                    Sheet = sheet,
                    Trims = default,
                    Pieces = [new("a", first, false), new("b", second, true)],
                    Offcuts = [new(left, true, Money.FromAmount(5))],
                    Tree = new()
                    {
                        Kind = CutNodeKind.Split,
                        Area = sheet,
                        Direction = CutDirection.Crosscut,
                        Children =
                        [
                            new() { Kind = CutNodeKind.Piece, Area = first, Index = 0 },
                            new() { Kind = CutNodeKind.Piece, Area = second, Index = 1 },
                            new() { Kind = CutNodeKind.Offcut, Area = left, Index = 0 },
                        ],
                    },
                    Cost = new(Money.FromAmount(12.75m), Money.FromAmount(1), Money.Zero, Money.FromAmount(5), Money.FromAmount(3.75m)),
                },
            ],
        };

        static Part Part(string id, int quantity) => new()
        {
            Id = id,
            MaterialId = "M",
            Length = Length.FromMillimetres(100),
            Width = Length.FromMillimetres(50),
            Thickness = Length.FromMillimetres(9),
            Quantity = quantity,
        };

        static Rect Box(int x, int y, int w, int h) => new(
            Length.FromMillimetres(x), Length.FromMillimetres(y), Length.FromMillimetres(w), Length.FromMillimetres(h));
    }

    private static Layout Layout(
        Job job, int number, (PlacedPiece[] Pieces, Offcut[] Offcuts, int Shape) contents, int choice, int count,
        (Money Metal, Money Saw, Money Facing) cost, bool cutter)
    {
        var stock = job.Stocks[choice % job.Stocks.Length];
        ImmutableArray<PlacedPiece> pieces =
            [.. contents.Pieces.Select(piece => piece with { PartId = job.Parts[int.Parse(piece.PartId, System.Globalization.CultureInfo.InvariantCulture) % job.Parts.Length].Id })];
        return new()
        {
            Number = number,
            StockId = stock.Id,
            SawId = job.Saws[choice % job.Saws.Length].Id,
            Count = count,
            Kept = count % 3 == 0,
            Sheet = new(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth),
            Trims = new(job.Saws[0].Kerf, Length.Zero, job.Saws[0].Trims.Left, Length.Zero),
            Pieces = pieces,
            Offcuts = [.. contents.Offcuts],
            Tree = cutter ? null : Tree(pieces, contents.Offcuts, contents.Shape),
            Cost = new(cost.Metal, cost.Saw, cost.Facing, cost.Saw, cost.Facing),
        };
    }

    /// <summary>All leaves under splits joined at random.</summary>
    private static CutNode Tree(ImmutableArray<PlacedPiece> pieces, Offcut[] offcuts, int shape)
    {
        var nodes = pieces.Select((piece, i) => new CutNode { Kind = CutNodeKind.Piece, Area = piece.Area, Index = i })
            .Concat(offcuts.Select((offcut, i) => new CutNode { Kind = CutNodeKind.Offcut, Area = offcut.Area, Index = i })).ToList();
        var random = new Random(shape);
        do
        {
            var take = Math.Min(nodes.Count, random.Next(1, 4));
            var children = nodes.Take(take).ToImmutableArray();
            nodes.RemoveRange(0, take);
            nodes.Add(new()
            {
                Kind = CutNodeKind.Split,
                Area = children[0].Area,
                Direction = (CutDirection)random.Next(2),
                Children = children,
            });
        }
        while (nodes.Count > 1);
        return nodes[0];
    }
}
