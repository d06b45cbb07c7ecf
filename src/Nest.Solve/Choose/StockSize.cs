namespace Nest.Solve.Choose;

/// <summary>Sizes by which bounds count how much goes onto a stock: area on plates, length on bars, each grown by one kerf, in the
/// component's units. Blanks so grown fit the usable size so grown; the kerf behind the last piece may lie beyond the end.</summary>
internal static class StockSize
{
    /// <summary>What the usable part of a stock holds.</summary>
    public static Int128 Room(Component component, int s)
    {
        var frame = component.Stocks[s];
        var kerf = component.Units(frame.Saw.Kerf);
        return frame.IsBar
            ? component.Units(frame.Usable.SizeX) + (Int128)kerf
            : (Int128)(component.Units(frame.Usable.SizeX) + kerf) * (component.Units(frame.Usable.SizeY) + kerf);
    }

    /// <summary>What one piece of item i takes of it.</summary>
    public static Int128 Of(Component component, int s, int i)
    {
        var frame = component.Stocks[s];
        var kerf = component.Units(frame.Saw.Kerf);
        return frame.IsBar
            ? component.SizeX(s, i) + (Int128)kerf
            : (Int128)(component.SizeX(s, i) + kerf) * (component.SizeY(s, i) + kerf);
    }

    /// <summary>What leftovers of a bar may bring at most, in money units: a constant per bar, less a part per piece; nothing on
    /// plates, whose lower cost has it already.</summary>
    public static (long PerStock, Func<int, long> PerPiece) LeftoverRate(Component component, int s)
    {
        var frame = component.Stocks[s];
        if (!frame.IsBar)
        {
            return (0, _ => 0);
        }

        var sheet = (Int128)frame.Sheet.SizeX.Nanometres;
        var keep = (Int128)frame.Worth.Keep.Units;

        // Per bar rounded up, per piece rounded down. The kerf behind the last piece may lie beyond the end: it is counted with the
        // bar, so that a full bar is not credited less than nothing.
        var perStock = (long)((((frame.Usable.SizeX + frame.Saw.Kerf).Nanometres * keep) + sheet - 1) / sheet);
        return (perStock, i => (long)((component.Fits[s, i]!.SizeX + frame.Saw.Kerf).Nanometres * keep / sheet));
    }

    /// <summary>What the smallest offcut worth keeping takes of the room; at least so much is not cut where one is kept.</summary>
    public static Int128 LeastKept(Component component, int s)
    {
        var (length, width) = SmallestKept(component, s);
        var kerf = component.Stocks[s].Saw.Kerf.Nanometres / component.Unit;
        return component.Stocks[s].IsBar ? length + kerf : (Int128)(length + kerf) * (width + kerf);
    }

    /// <summary>Length and width in the component's units, rounded down; the width of a bar is 0.</summary>
    public static (long Length, long Width) SmallestKept(Component component, int s)
    {
        var rule = component.Stocks[s].Rule!;
        return (
            Math.Max(1, rule.KeepLength.Nanometres / component.Unit),
            component.Stocks[s].IsBar ? 0 : Math.Max(1, rule.KeepWidth.Nanometres / component.Unit));
    }

    /// <summary>What keeping offcuts of one piece of stock brings at most beyond scrap, in money units, rounded up; 0 where none is kept.</summary>
    public static long KeepGain(Component component, int s)
    {
        var frame = component.Stocks[s];
        if (!frame.MayKeep || frame.Worth.Keep <= frame.Worth.Scrap)
        {
            return 0;
        }

        // At most all that is usable. Two units more, because the lower costs may be rounded up or down.
        var (part, whole) = frame.IsBar
            ? ((Int128)(frame.Usable.SizeX + frame.Saw.Kerf).Nanometres, (Int128)frame.Sheet.SizeX.Nanometres)
            : (((frame.Usable.SizeX + frame.Saw.Kerf) * (frame.Usable.SizeY + frame.Saw.Kerf)).SquareNanometres,
                frame.Sheet.Area.SquareNanometres);
        return (long)(((frame.Worth.Keep - frame.Worth.Scrap).Units * part / whole) + 2);
    }
}
