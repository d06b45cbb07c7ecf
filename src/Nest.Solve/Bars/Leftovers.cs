namespace Nest.Solve.Bars;

/// <summary>Which layouts of a stock are meant: in a group of stocks whose kept leftovers are counted, the two classes are searched one
/// after the other, because each has a linear value of its own.</summary>
internal enum Leftovers
{
    /// <summary>All.</summary>
    Any,

    /// <summary>Those whose leftover is too short to keep.</summary>
    Scrap,

    /// <summary>Those whose leftover is worth keeping.</summary>
    Kept,
}
