namespace Nest.Core.Plans;

/// <summary>Direction of a through-cut, from edge to edge of the piece at hand.</summary>
public enum CutDirection
{
    /// <summary>Along the stock's length (parallel to X): divides Y.</summary>
    Rip,

    /// <summary>Across the stock's length (parallel to Y): divides X. The only cut on bars.</summary>
    Crosscut,
}
