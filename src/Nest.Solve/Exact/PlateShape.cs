using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>One kind of plate as the tables see it: whole units of length, money in grains.</summary>
/// <param name="SizeX">Usable length, in units.</param>
/// <param name="SizeY">Usable width.</param>
/// <param name="Scale">Component units per unit here.</param>
internal sealed record PlateShape(int SizeX, int SizeY, long Scale)
{
    public required int Kerf { get; init; }

    /// <summary>What a set of parallel cuts must leave to hold; 0: nothing.</summary>
    public required int Held { get; init; }

    /// <summary>Longest cut of the saw.</summary>
    public required int Longest { get; init; }

    /// <summary>Direction of the first cut; null: either.</summary>
    public CutDirection? FirstCut { get; init; }

    /// <summary>Smallest rectangle worth keeping; <see cref="int.MaxValue"/>: none is.</summary>
    public required int KeepLong { get; init; }

    /// <inheritdoc cref="KeepLong"/>
    public required int KeepShort { get; init; }

    public required PlatePrices Prices { get; init; }

    /// <summary>Raw edges that are cut off only where a blank lies against them.</summary>
    public RawEdges Raw { get; init; } = RawEdges.None;

    /// <summary>Raw edges that cannot be counted at the usual positions of cuts (<see cref="RawEdges.AreSeen"/>): where every position is tried they are.</summary>
    public RawEdges Unseen { get; init; } = RawEdges.None;

    /// <summary>By kind of blank; SizeX 0 where it does not come from this plate.</summary>
    public required PlatePiece[] Pieces { get; init; }

    /// <summary>The plate that this one stands for in coarser units, so many of its own each (<see cref="CoarsePlate"/>); null: it is the plate itself.</summary>
    public PlateShape? Fine { get; init; }

    /// <inheritdoc cref="Fine"/>
    public int Times { get; init; } = 1;

    /// <summary>Steps of one run of the table: pairs of rectangles looked at.</summary>
    public double Steps => (double)SizeX * SizeY * (SizeX + SizeY) / 4;

    /// <summary>The plate in units so much finer; its scale is 0 where these are no whole ones of the component.</summary>
    public PlateShape Finer(int finer)
    {
        return finer == 1 ? this : new(SizeX * finer, SizeY * finer, Scale % finer == 0 ? Scale / finer : 0)
        {
            Kerf = Kerf * finer,
            Held = Times(Held),
            Longest = Times(Longest),
            FirstCut = FirstCut,
            KeepLong = Times(KeepLong),
            KeepShort = Times(KeepShort),
            Prices = Prices with { PerUnit = Prices.PerUnit / finer, Keep = Prices.Keep / finer / finer, Scrap = Prices.Scrap / finer / finer },
            Raw = Raw with { Right = Raw.Right * finer, Top = Raw.Top * finer },
            Pieces = [.. Pieces.Select(piece => piece with { SizeX = piece.SizeX * finer, SizeY = piece.SizeY * finer })],
        };

        int Times(int length) => (int)Math.Min(int.MaxValue, (long)length * finer);
    }

    /// <summary>Most grains that any sum over a layout with few cuts may come to, gains or costs: with no more than <see cref="MoneyLimit"/> a layout is always told from none in 32 bits.</summary>
    /// <remarks>A layout of n pieces needs n − 1 cuts between them and two beside each; the rest is for trims and for the saw's rules. A plate holds no more pieces of a kind than by area.</remarks>
    public double Money
    {
        get
        {
            var cut = Prices.PerCut + (Prices.PerUnit * Math.Max(SizeX + Raw.Right, SizeY + Raw.Top));
            var (pieces, facing) = (0.0, 0.0);
            foreach (var piece in Pieces.Where(piece => piece.SizeX > 0))
            {
                var most = Math.Min(piece.Demand, (double)SizeX * SizeY / ((double)piece.SizeX * piece.SizeY));
                (pieces, facing) = (pieces + most, facing + (most * piece.Facing));
            }

            return Math.Max(WholeWorth, (4 * (pieces + 1) * cut) + facing + Raw.Trims.Max());
        }
    }

    /// <inheritdoc cref="Money"/>
    public const double MoneyLimit = 400_000_000;

    /// <summary>Whether sums of two cells of a table of values stay below 2^31: values come on top of rests (<see cref="ValueCaps"/>).</summary>
    public bool HasTableMoney => WholeWorth <= Grain.Most && Prices.PerCut + (Prices.PerUnit * (Math.Max(SizeX, SizeY) + Math.Max(Raw.Right, Raw.Top))) <= Grain.Most;

    /// <summary>The same with money in grains so many times as coarse: costs are rounded down.</summary>
    public PlateShape Coarser(long times) => times == 1 ? this : this with
    {
        Prices = new((long)Math.Floor(Prices.Fixed / (double)times), Prices.PerCut / times, Prices.PerUnit / times, Prices.Keep / times, Prices.Scrap / times),
        Raw = Raw with { Trims = [.. Raw.Trims.Select(trim => (int)(trim / times))] },
        Pieces = [.. Pieces.Select(piece => piece with { Facing = (int)(piece.Facing / times) })],
    };

    private double WholeWorth => Math.Max(Prices.Keep, Prices.Scrap) * SizeX * SizeY;

    public bool IsKept(int w, int h) => Math.Max(w, h) >= KeepLong && Math.Min(w, h) >= KeepShort;

    /// <summary>Worth of a rest in grains, rounded up; in coarser units the most that it may be.</summary>
    public int Worth(int w, int h) => Fine is not null
        ? Fine.Worth(Math.Min(Fine.SizeX, CoarsePlate.MostOf(this, w)), Math.Min(Fine.SizeY, CoarsePlate.MostOf(this, h)))
        : (int)Math.Ceiling((IsKept(w, h) ? Prices.Keep : Prices.Scrap) * w * h);
}

/// <summary>A kind of blank on a plate.</summary>
/// <param name="Facing">Cost per piece, in grains.</param>
internal readonly record struct PlatePiece(int SizeX, int SizeY, bool MayTurn, int Demand, int Facing)
{
    /// <summary>By how much a rectangle may be longer that holds this piece and nothing else: 0, or a unit on a plate in coarser ones.</summary>
    public int MoreX { get; init; }

    /// <inheritdoc cref="MoreX"/>
    public int MoreY { get; init; }

    /// <summary>Sizes of the rectangles that hold this piece and nothing else.</summary>
    public IEnumerable<(int X, int Y)> Rectangles()
    {
        for (var x = SizeX; SizeX > 0 && x <= SizeX + MoreX; x++)
        {
            for (var y = SizeY; y <= SizeY + MoreY; y++)
            {
                yield return (x, y);
                if (MayTurn)
                {
                    yield return (y, x);
                }
            }
        }
    }
}

/// <summary>What the cost model charges for a plate beside its price, in grains; the one place of this room that knows it.</summary>
/// <param name="Fixed">Trim cuts that every layout takes, less the trims' scrap, rounded down, less half a money unit: the saw's cost is rounded once a layout.</param>
/// <param name="PerCut">One cut.</param>
/// <param name="PerUnit">One unit of its length.</param>
/// <param name="Keep">One square unit of a kept offcut; a little too high, never too low.</param>
/// <param name="Scrap">One square unit of scrap; the same.</param>
internal sealed record PlatePrices(long Fixed, double PerCut, double PerUnit, double Keep, double Scrap);
