using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The raw right and top edge of a plate: cut off only where a blank lies against them, else left on the rests.</summary>
/// <remarks>
/// What a layout costs beyond its cuts depends on which edges stay: the trims that are made, and each cut that reaches an edge that stays goes
/// through the raw zone too. So a rectangle is known by its size and by the staying edges that it touches (1: right, 2: top, in "raw" below);
/// one that touches any is no piece. Of two sides of a cut across such an edge one touches it.
/// The positions of <see cref="CutPositions"/> stay enough where <see cref="AreSeen"/>: in a row with a rest the rest may lie at the raw edge, which
/// saves the cut that would else part it off; the cuts through the row grow by the raw zone, all together by no more than that cut's length, as
/// the blanks along the edge are at least as wide as the zone (with a kerf each, where the handling of a cut costs as much as a kerf of its length).
/// </remarks>
/// <param name="Right">Width of the zone in units; 0: the edge is clean, or always cut off.</param>
/// <param name="Top">The same.</param>
/// <param name="Trims">By which edges stay (0 to 3): what the trims cost beyond those of every layout, in grains, rounded down.</param>
internal sealed record RawEdges(double Right, double Top, int[] Trims)
{
    public static readonly RawEdges None = new(0, 0, [0, 0, 0, 0]);

    /// <summary>The edges that may stay, as a set.</summary>
    public int Mask => (Right > 0 ? 1 : 0) | (Top > 0 ? 2 : 0);

    /// <summary>All sets of edges that may stay.</summary>
    public IEnumerable<int> Sets => Enumerable.Range(0, 4).Where(raw => (raw & ~Mask) == 0);

    /// <summary>What a table for each set costs, in tables for none.</summary>
    public double Tables => Mask switch { 0 => 1, 3 => 6, _ => 2.5 };

    /// <summary>Whether tables may count what these edges cost and still look at the usual positions only.</summary>
    public bool AreSeen(int leastX, int leastY, int kerf, PlatePrices prices)
    {
        // A cut's handling is worth a kerf of its length, hence each blank counts with its kerf.
        var beside = prices.PerUnit * kerf <= prices.PerCut ? kerf : 0;
        return Right <= (long)leastY + beside && Top <= (long)leastX + beside;
    }

    /// <summary>What a layout costs beyond <see cref="PlatePrices.Fixed"/> and its cuts within the usable plate, in grains: least over all orders of the
    /// children of its splits. O(nodes).</summary>
    public int CostOf(PlateNode tree, CutRules rules)
    {
        const int Never = int.MaxValue / 4;
        return Sets.Min(raw => Visit(tree, raw) is var cuts && cuts >= Never ? Never : cuts + Trims[raw]);

        int Visit(PlateNode node, int raw)
        {
            if (raw == 0 || node.Kind == PlateNodeKind.Rest)
            {
                return 0;
            }

            if (node.Kind == PlateNodeKind.Piece)
            {
                return Never;
            }

            var scale = rules.Shape.Scale;
            var crosscut = node.Direction == CutDirection.Crosscut;
            var (across, costs, length) = crosscut
                ? (1, rules.Crosscuts(raw), (int)(node.Area.SizeY / scale))
                : (2, rules.Rips(raw), (int)(node.Area.SizeX / scale));
            long sum = (long)node.Cuts * (costs[length] - rules.Costs[length]);
            long least = node.IsFlush && (raw & across) != 0 ? Never : 0;
            foreach (var child in node.Children)
            {
                // One child touches the edge that the cuts run along; without dust.
                var inner = Visit(child, raw & ~across);
                sum += inner;
                if (least != 0)
                {
                    least = Math.Min(least, (long)Visit(child, raw) - inner);
                }
            }

            return (int)Math.Min(Never, sum + least);
        }
    }
}
