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
}
