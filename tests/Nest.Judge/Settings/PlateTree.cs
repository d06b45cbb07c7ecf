using Nest.Core.Plans;

namespace Nest.Judge.Settings;

/// <summary>A rectangle of a plate in whole units: a blank, waste, or parallel cuts with what lies between them.</summary>
/// <param name="Kind">Of a blank; −1: none.</param>
/// <param name="Direction">Of its cuts: a crosscut divides X.</param>
/// <param name="Children">In the order of their places; empty: a blank or waste.</param>
internal sealed record PlateTree(int X, int Y, int SizeX, int SizeY, int Kind, CutDirection Direction, PlateTree[] Children)
{
    public bool IsWaste => Kind < 0 && Children.Length == 0;

    /// <summary>Its size in the direction that such cuts divide.</summary>
    public int Size(CutDirection direction) => direction == CutDirection.Crosscut ? SizeX : SizeY;

    /// <summary>Where it begins in that direction.</summary>
    public int Start(CutDirection direction) => direction == CutDirection.Crosscut ? X : Y;

    /// <summary>Where it ends in that direction.</summary>
    public int End(CutDirection direction) => Start(direction) + Size(direction);

    /// <summary>Number of its own cuts; behind the last child there is one when it does not end with the rectangle.</summary>
    public int Cuts => Children.Length == 0 ? 0 : Children.Length - 1 + (HasTail ? 1 : 0);

    public bool HasTail => Children.Length > 0 && Children[^1].End(Direction) != End(Direction);

    /// <summary>It and all below.</summary>
    public IEnumerable<PlateTree> All() => Children.SelectMany(child => child.All()).Prepend(this);
}
