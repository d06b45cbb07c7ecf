using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>What the saw's clamp must be able to hold: one of the two sides of every cut is at least so long.</summary>
internal static class Clamp
{
    /// <summary>Whether the metal can be held while it is trimmed.</summary>
    /// <param name="usableY">Null: a bar.</param>
    public static bool HoldsTrimmed(Saw saw, EdgeTrims trims, Length usableX, Length? usableY) =>
        saw.Kind == SawKind.Cutter
        || ((trims.Left + trims.Right == Length.Zero || usableX >= saw.ShortestHeld)
            && (usableY is not { } across || trims.Bottom + trims.Top == Length.Zero || across >= saw.ShortestHeld));

    /// <summary>Whether a blank can come off the usable size: its last cut in each direction leaves it and, at most, all the rest.</summary>
    /// <remarks>Both directions are asked of one way to lie: a blank that fits turned and would be held straight does not come off. Necessary whatever else is cut from the same piece: other cuts make the rest smaller, never larger.</remarks>
    public static bool Holds(Saw saw, PartWay way, Length usableX, Length? usableY)
    {
        if (saw.Kind == SawKind.Cutter || saw.ShortestHeld == Length.Zero)
        {
            return true;
        }

        if (usableY is not { } across)
        {
            return Side(way.Along, usableX);
        }

        return (Side(way.Along, usableX) && Side(way.Across, across)) || (way.MayTurn && Side(way.Across, usableX) && Side(way.Along, across));

        bool Side(Length size, Length usable) =>
            size <= usable && (size >= saw.ShortestHeld || usable - size - saw.Kerf >= saw.ShortestHeld || (size == usable && usableY is not null));
    }
}
