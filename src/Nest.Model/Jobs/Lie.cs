namespace Nest.Core.Jobs;

/// <summary>Which way a flat part may lie in its stock: what of it becomes the stock's thickness, what lies along a bar.</summary>
/// <remarks>Whether it may be turned against the rolling direction is said apart (<see cref="Part.MayTurn"/>): where it may not, the part's
/// length always lies along the stock.</remarks>
public enum Lie
{
    /// <summary>Length, width or thickness may be up, and any of them along a bar.</summary>
    Any,

    /// <summary>The thickness is up on plate; along a bar lies the length or the width.</summary>
    Flat,

    /// <summary>The thickness is up on plate, the length lies along a bar.</summary>
    AsGiven,
}
