namespace Nest.Solve.Plates.Free;

/// <summary>Where a piece goes among the spaces that hold it.</summary>
internal enum FillRule
{
    /// <summary>Lowest upper edge, then leftmost (bottom-left; Baker, Coffman, Rivest 1980).</summary>
    Bottom,

    /// <summary>Leftmost right edge, then lowest.</summary>
    Left,

    /// <summary>Smallest shorter rest beside the piece in its space.</summary>
    ShortSide,

    /// <summary>Smallest longer rest.</summary>
    LongSide,

    /// <summary>Smallest space.</summary>
    Space,

    /// <summary>Upper right corner farthest from the plate's (Gonçalves, Resende 2013).</summary>
    FarCorner,

    /// <summary>Longest contact with plate edges and pieces (touching perimeter; Lodi, Martello, Vigo 1999).</summary>
    Contact,

    /// <summary>The lowest place takes the piece that fits it best (<see cref="Plates.Free.Skyline"/>); on a plate with keep-outs as
    /// <see cref="Bottom"/>.</summary>
    Skyline,
}
