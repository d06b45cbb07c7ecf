using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>What a drawing holds of outlines, in the drawing's unit.</summary>
/// <param name="Closed">Closed polylines, circles, ellipses and splines.</param>
/// <param name="Loose">Lines, arcs, curves and open polylines side by side: start with its bulge, end.</param>
/// <param name="NotRead">Kinds of entities that might be outlines and are not read, with their number.</param>
internal sealed record DxfContent(List<OutlineCorner[]> Closed, List<(OutlineCorner From, OutlineCorner To)> Loose, SortedDictionary<string, int> NotRead)
{
    /// <summary>Splines for which the drawing gives only points that they go through.</summary>
    public int Assumed { get; set; }
}
