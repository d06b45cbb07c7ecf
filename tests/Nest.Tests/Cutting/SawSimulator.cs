using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Cutting;

/// <summary>A saw that knows only what saws do: pieces of metal lie about, one is put against the fence, a cut goes from edge to edge
/// and turns one kerf into chips. Knows nothing of trees.</summary>
internal sealed class SawSimulator(Saw saw, Rect sheet, Rect[] wanted)
{
    private readonly List<Rect> metal = [sheet];
    private CutStep? before;
    private (CutDirection, Length)? inForce;
    private Area chips = Area.Zero;

    public IReadOnlyList<Rect> Metal => metal;

    public static SawSimulator Run(Plan plan, Layout layout, CutSequence sequence)
    {
        var simulator = new SawSimulator(plan.SawOf(layout), layout.Sheet, [.. layout.Pieces.Select(piece => piece.Area)]);
        foreach (var step in sequence.Steps)
        {
            simulator.Cut(step);
        }

        simulator.NothingLost();
        return simulator;
    }

    private void Cut(CutStep step)
    {
        var rip = step.Direction == CutDirection.Rip;
        var area = step.OnSaw.Area;
        metal.Remove(area).Should().BeTrue("step {0} needs {1}, which must be there", step.Number, area);
        step.Number.Should().Be((before?.Number ?? 0) + 1);

        // From edge to edge, within the metal, one kerf wide unless the metal ends there.
        area.Contains(step.Kerf).Should().BeTrue("step {0} cuts in its metal", step.Number);
        (rip ? step.Kerf.SizeX == area.SizeX : step.Kerf.SizeY == area.SizeY).Should().BeTrue("step {0} goes from edge to edge", step.Number);
        var width = rip ? step.Kerf.SizeY : step.Kerf.SizeX;
        var atEdge = rip ? step.Kerf.Y == area.Y || step.Kerf.Top == area.Top : step.Kerf.X == area.X || step.Kerf.Right == area.Right;
        (width == saw.Kerf || (atEdge && width < saw.Kerf && (width > Length.Zero || saw.Kind == SawKind.BarSaw))).Should().BeTrue("step {0} turns one kerf into chips", step.Number);
        step.CutLength.Should().Be(rip ? area.SizeX : area.SizeY);
        if (saw.Kind == SawKind.PlateSaw && saw.LargestCut is { } largest)
        {
            step.CutLength.Should().BeLessThanOrEqualTo(largest);
        }

        // The fence.
        var measure = step.Against switch
        {
            Edge.Left => step.Kerf.X - area.X,
            Edge.Right => area.Right - step.Kerf.Right,
            Edge.Bottom => step.Kerf.Y - area.Y,
            _ => area.Top - step.Kerf.Top,
        };
        measure.Should().Be(step.Measure, "step {0}", step.Number);
        (step.Against is Edge.Bottom or Edge.Top).Should().Be(rip);
        // At a mark fence and stop are away and stay as they were.
        var newSetting = !step.Marked && (step.Direction, step.Measure) != inForce;
        step.NewSetting.Should().Be(newSetting);
        step.Setting.Should().Be((before?.Setting ?? 0) + (newSetting ? 1 : 0));
        inForce = step.Marked ? inForce : (step.Direction, step.Measure);

        // What comes off: first what lay against the fence.
        Rect[] sides = rip
            ? [area with { SizeY = step.Kerf.Y - area.Y }, area with { Y = step.Kerf.Top, SizeY = area.Top - step.Kerf.Top }]
            : [area with { SizeX = step.Kerf.X - area.X }, area with { X = step.Kerf.Right, SizeX = area.Right - step.Kerf.Right }];
        if (step.Against is Edge.Right or Edge.Top)
        {
            Array.Reverse(sides);
        }

        Rect[] left = [.. sides.Where(side => side.SizeX > Length.Zero && side.SizeY > Length.Zero)];
        step.Yields.Select(yield => yield.Area).Should().Equal(left, "step {0}", step.Number);
        // Where waste is cut from waste the larger lies there.
        var waste = left.Length == 2 && !wanted.Any(step.Yields[1].Area.Contains)
            && Size(step.Yields[0].Area) >= Size(step.Yields[1].Area);
        Length Size(Rect side) => rip ? side.SizeY : side.SizeX;
        // A thin strip of waste between fence and blade binds and flies (common practice, no source).
        (left.Length == 2 && step.Yields[0].Kind == WorkKind.Scrap && !step.Marked && !waste)
            .Should().BeFalse("step {0} catches waste between fence and blade", step.Number);
        if (step.Purpose == CutPurpose.Trim)
        {
            (step.Marked || step.Yields[0].Kind != WorkKind.Scrap).Should().BeTrue("the trim of step {0} falls free", step.Number);
        }

        if (saw.Kind == SawKind.BarSaw && !step.Marked)
        {
            // The vise is behind the blade: it holds what does not lie at the stop (common practice, no source).
            var behind = left.Where(side => step.Against == Edge.Left ? side.X > step.Kerf.X : side.X < step.Kerf.X).Select(side => side.SizeX).FirstOrDefault();
            behind.Should().BeGreaterThanOrEqualTo(saw.ShortestHeld, "step {0} clamps what is behind the stop's end", step.Number);
        }

        left.Max(side => rip ? side.SizeY : side.SizeX).Should().BeGreaterThanOrEqualTo(saw.ShortestHeld, "step {0} must hold something", step.Number);
        var held = left.MaxBy(side => rip ? side.SizeY : side.SizeX);
        step.Held.Should().Be(rip ? (held.Y < step.Kerf.Y ? Edge.Bottom : Edge.Top) : held.X < step.Kerf.X ? Edge.Left : Edge.Right);

        // What stays on the saw is what the next step cuts.
        var stayed = before?.Yields.Where(yield => yield.To == Destination.Saw).Select(yield => yield.Area).ToArray() ?? [];
        step.StillOnSaw.Should().Be(stayed.Contains(area));
        stayed.Length.Should().BeLessThanOrEqualTo(1);
        if (stayed.Length == 1)
        {
            stayed[0].Should().Be(area);
        }

        step.Turn.Should().Be(step.StillOnSaw && before!.Against != step.Against);
        metal.AddRange(left);
        chips += step.Kerf.Area;
        before = step;
    }

    private void NothingLost() =>
        metal.Aggregate(chips, (sum, piece) => sum + piece.Area).Should().Be(sheet.Area);
}
