namespace Nest.Solve.Plates.Bounds;

/// <summary>A dual feasible function of one side of a plate, tabulated at the pieces' sizes: pieces that lie side by side in the side's
/// length have values of at most <see cref="Full"/> in all.</summary>
/// <param name="Full">Value of the whole side, at least 1.</param>
/// <param name="OfX">Value of each piece's SizeX laid along this side.</param>
/// <param name="OfY">Value of each piece's SizeY laid along this side.</param>
internal sealed record ScaleFunction(long Full, long[] OfX, long[] OfY);
