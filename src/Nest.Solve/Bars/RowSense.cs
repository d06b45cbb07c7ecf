namespace Nest.Solve.Bars;

/// <summary>How the left side of a row stands to its right side.</summary>
internal enum RowSense
{
    AtLeast,
    AtMost,
    Equal,
}
