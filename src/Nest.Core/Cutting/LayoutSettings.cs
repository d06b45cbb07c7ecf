using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Where fence or stop stands: the direction of its cuts, the measure, and the saw's angle.</summary>
public readonly record struct StopPosition(CutDirection Direction, Length Measure, Angle Angle);

/// <summary>How often fence, stop or angle is set in one layout, however many pieces are cut alike.</summary>
/// <param name="Count">Settings in the layout's order of cuts (<see cref="CutSequencer"/>): each change of fence, stop or angle is one, and
/// so is each cut at a mark, since measuring takes as long.</param>
/// <param name="First">The first position of fence or stop; null: there is none.</param>
/// <param name="Last">Where it is left; null: as it was found.</param>
public sealed record LayoutSettings(int Count, StopPosition? First, StopPosition? Last)
{
    private static readonly LayoutSettings None = new(0, null, null);

    /// <summary>The positions in which the angled ends of a blank are cut.</summary>
    public static IEnumerable<StopPosition> OfEnds(Length size, EndAngles ends, Saw saw, LengthUnit unit) =>
        AngledCuts.Both(size, ends, saw, unit).Select(cut => new StopPosition(CutDirection.Crosscut, cut.Measure, cut.Angle.Size));

    /// <summary>A pure function of the layout's tree, its stock and its saw. O(pieces) on bars; see <see cref="LevelOrder"/> for plates.</summary>
    public static LayoutSettings Of(Stock stock, Saw saw, Layout layout, LengthUnit unit)
    {
        if (saw.Kind == SawKind.Cutter || saw.Id == Saw.SupplierId || layout.Pieces.IsEmpty || layout.Tree is null)
        {
            return None;
        }

        IEnumerable<Setting> settings;
        if (stock.Form.IsBar())
        {
            settings = BarOrder.Of(layout, saw, stock).Select(move => move.Setting);
        }
        else
        {
            var trimmed = TrimmedEdges.Of(saw, stock, layout);
            var graph = SplitGraph.Of(layout, trimmed);
            settings = TrimCuts.Of(layout, saw, trimmed).Select(trim => trim.Setting)
                .Concat(LevelOrder.Of(graph, saw.ShortestHeld).Select(move => move.Setting));
        }

        var count = 0;
        (StopPosition? first, StopPosition? last) = (null, null);
        foreach (var setting in settings)
        {
            if (setting.Marked)
            {
                count++;
                continue;
            }

            Set(new(setting.Direction, setting.Measure, Angle.Square));
        }

        foreach (var cut in AngledCuts.Of(layout, saw, unit, 0, 0))
        {
            Set(new(CutDirection.Crosscut, cut.Measure, cut.Angle));
        }

        return new(count, first, last);

        void Set(StopPosition position)
        {
            count += last == position ? 0 : 1;
            (first, last) = (first ?? position, position);
        }
    }
}
