using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>A component's plate as the tables have it: lengths in whole units of their greatest common divisor, money in grains.</summary>
internal static class PlateGrid
{
    /// <summary>Most units of a side.</summary>
    private const int MostSide = 20_000;

    /// <summary>Cells from which a table is made in coarser units where it can.</summary>
    private const double ManyCells = 1_200_000;

    /// <summary>Most cells of a table in coarser units.</summary>
    private const double MostCoarseCells = 150_000;

    /// <summary>Cells of a table that may become finer for damage.</summary>
    private const double MostFineCells = 400_000;

    /// <summary>Table steps of one pricing; null where there is no table.</summary>
    public static double? StepsOf(Component component, int s, double mostCells)
    {
        if (UnitOf(component, s) is not var (x, y, unit))
        {
            return null;
        }

        var times = TimesOf(x / unit, y / unit, component.Units(component.Stocks[s].Saw.Kerf) / unit, mostCells);
        return times is null ? null : (double)(x / unit) * (y / unit) * ((x + y) / unit) / 4 / Math.Pow(times.Value, 3);
    }

    /// <summary>The plate as tables of values see it: as it is, or in coarser units where there would be too many cells; null: there is no table.</summary>
    public static PlateShape? ListedOf(PlateShape shape, double mostCells) =>
        TimesOf(shape.SizeX, shape.SizeY, shape.Kerf, mostCells) is { } times ? times == 1 ? shape : CoarsePlate.Of(shape, times) : null;

    /// <summary>How many units of a plate its tables take as one, no more than a kerf is wide; null: there would still be too many cells.</summary>
    private static int? TimesOf(double x, double y, double kerf, double mostCells)
    {
        var wanted = x * y <= Math.Min(mostCells, ManyCells) ? 1 : (int)Math.Ceiling(Math.Sqrt(x * y / MostCoarseCells));
        var times = wanted <= kerf ? wanted : x * y <= mostCells ? 1 : (int)Math.Max(1, kerf);
        return x * y <= mostCells * times * times ? times : null;
    }

    /// <summary>Usable size and the greatest common divisor of all lengths, in component units; null where a side has too many of them.</summary>
    private static (long X, long Y, long Unit)? UnitOf(Component component, int s)
    {
        var frame = component.Stocks[s];
        long[] lengths =
        [
            component.Units(frame.Usable.SizeX), component.Units(frame.Usable.SizeY), component.Units(frame.Saw.Kerf),
            component.Units(frame.Saw.ShortestHeld), frame.Saw.LargestCut is { } longest ? component.Units(longest) : 0,
            frame.Rule is { } rule ? component.Units(rule.KeepLength) : 0, frame.Rule is { } same ? component.Units(same.KeepWidth) : 0,
            .. Enumerable.Range(0, component.Items).SelectMany(i => new[] { component.SizeX(s, i), component.SizeY(s, i) }),
        ];
        var unit = lengths.Aggregate(0L, WholeNumbers.Divisor);
        if (lengths[0] <= 0 || lengths[1] <= 0 || lengths[0] / unit > MostSide || lengths[1] / unit > MostSide)
        {
            return null;
        }

        // On small plates damage lies on the grid too, for what sees it.
        var fine = GroupSolver.PlateStockOf(component, s, null).KeepOuts.SelectMany(spot => new[] { spot.X, spot.Y, spot.SizeX, spot.SizeY }).Aggregate(unit, WholeNumbers.Divisor);
        return (lengths[0], lengths[1], lengths[0] / (double)fine * (lengths[1] / (double)fine) <= MostFineCells ? fine : unit);
    }

    /// <summary>The plate with its pieces and prices in whole units of its grid; null where a side has too many of them.</summary>
    public static PlateShape? ShapeOf(BlankKinds kinds, int s)
    {
        var component = kinds.Component;
        var frame = component.Stocks[s];
        if (UnitOf(component, s) is not var (x, y, unit))
        {
            return null;
        }

        PlatePiece[] pieces = [.. kinds.Members.Select((members, k) => component.Fits[s, members[0]] is { } fit
            ? new PlatePiece(
                (int)(component.SizeX(s, members[0]) / unit), (int)(component.SizeY(s, members[0]) / unit), fit.MayTurn, kinds.Demand[k],
                (int)Math.Min(Grain.Most, fit.ExtraCost.Units * Grain.PerUnit))
            : default)];
        var (prices, raw) = PricesOf(frame, component.Unit * unit);
        var seen = raw.AreSeen(Least(pieces, true), Least(pieces, false), Whole(frame.Saw.Kerf), prices);
        return new((int)(x / unit), (int)(y / unit), unit)
        {
            Kerf = Whole(frame.Saw.Kerf),
            Held = Whole(frame.Saw.ShortestHeld),
            Longest = frame.Saw.LargestCut is { } longest ? Whole(longest) : int.MaxValue,
            FirstCut = frame.Saw.FirstCut,
            KeepLong = frame.Rule is { } rule ? Whole(rule.KeepLength) : int.MaxValue,
            KeepShort = frame.Rule is { } same ? Whole(same.KeepWidth) : int.MaxValue,
            Prices = prices,
            Raw = seen ? raw : RawEdges.None,
            Unseen = seen ? RawEdges.None : raw,
            Pieces = pieces,
        };

        static int Least(PlatePiece[] pieces, bool alongX) => pieces.Where(piece => piece.SizeX > 0)
            .Select(piece => piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : alongX ? piece.SizeX : piece.SizeY).DefaultIfEmpty(int.MaxValue).Min();

        int Whole(Length length) => (int)Math.Min(int.MaxValue, component.Units(length) / unit);
    }

    private static (PlatePrices Prices, RawEdges Raw) PricesOf(StockFrame frame, long unit)
    {
        var (perNanometre, perCut) = frame.SawRate;
        var (sheet, trims, usable) = (frame.Sheet, frame.Trims, frame.Usable);

        // Left and bottom are measured from: cut off where they are raw. Right and top only where a blank lies against them, or where a cut would
        // else be longer than the saw makes.
        var (cutsRight, cutsTop) = (BeyondReach(sheet.SizeX), BeyondReach(sheet.SizeY));
        var always = Trim(trims.Left, sheet.SizeY) + Trim(trims.Bottom, usable.SizeX)
            + (cutsRight ? Trim(trims.Right, sheet.SizeY) : 0) + (cutsTop ? Trim(trims.Top, usable.SizeX) : 0);
        var stays = (Right: cutsRight ? Length.Zero : trims.Right, Top: cutsTop ? Length.Zero : trims.Top);
        var all = (double)sheet.SizeX.Nanometres / unit * (sheet.SizeY.Nanometres / (double)unit);
        return (
            new(
                (long)decimal.Floor((always - 0.5m + frame.Loading.Units - frame.TrimCredit()) * Grain.PerUnit),
                (double)perCut * Grain.PerUnit, (double)(perNanometre * unit) * Grain.PerUnit,
                Rate(frame.Worth.Keep), Rate(frame.Worth.Scrap)),
            new(stays.Right.Nanometres / (double)unit, stays.Top.Nanometres / (double)unit, [.. Enumerable.Range(0, 4).Select(More)]));

        // With the right edge on, bottom and top are cut along it too.
        int More(int raw)
        {
            var (right, top) = ((raw & 1) != 0, (raw & 2) != 0);
            var beyond = right ? stays.Right : Length.Zero;
            var more = (right ? 0 : Trim(stays.Right, sheet.SizeY)) + (top ? 0 : Trim(stays.Top, usable.SizeX + beyond))
                + (trims.Bottom > Length.Zero ? perNanometre * beyond.Nanometres : 0)
                + (cutsTop && trims.Top > Length.Zero ? perNanometre * beyond.Nanometres : 0);
            return (int)Math.Min(Grain.Most, decimal.Floor(more * Grain.PerUnit));
        }

        decimal Trim(Length trim, Length across) => trim > Length.Zero ? (perNanometre * across.Nanometres) + perCut : 0;

        bool BeyondReach(Length side) => frame.Saw.LargestCut is { } largest && side > largest;

        double Rate(Money worth) => worth.Units * (double)Grain.PerUnit / all * (1 + 1e-12);
    }
}
