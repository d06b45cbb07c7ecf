using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>The same angled cut at one end of all blanks of a part, after they have been parted square.</summary>
public sealed record AngledCut
{
    /// <summary>Continues the numbers of the steps.</summary>
    public required int Number { get; init; }

    /// <summary>Number of the setting, continuing those of the steps; a setting is the saw's angle or the stop.</summary>
    public required int Setting { get; init; }

    /// <summary>Whether the stop or the saw's angle has to be set anew.</summary>
    public required bool NewSetting { get; init; }

    /// <summary>Whether the saw's angle has to be set anew.</summary>
    public required bool NewAngle { get; init; }

    /// <summary>What the saw is set to, from square.</summary>
    public required Angle Angle { get; init; }

    public required string PartId { get; init; }

    /// <summary>Which end is cut: <see cref="Edge.Left"/> or <see cref="Edge.Right"/>; the other lies against the stop.</summary>
    public required Edge End { get; init; }

    /// <summary>The edge that has the long point: <see cref="Edge.Bottom"/> is the near edge, <see cref="Edge.Top"/> the far one.</summary>
    public required Edge LongPoint { get; init; }

    /// <summary>The cut leans across the thickness, else across the width.</summary>
    public required bool AcrossThickness { get; init; }

    /// <summary>From the end at the stop to the long point of the cut.</summary>
    public required Length Measure { get; init; }

    /// <summary>Blanks cut so from one stock piece.</summary>
    public required int Pieces { get; init; }
}

/// <summary>Puts the angled cuts of a layout in order.</summary>
/// <remarks>By angle, so that the saw is set to each once; within it by measure, the longest first, so that the stop is set to each once. The
/// first cut of a blank is measured from its other, square end; the second from the first's long point, so that the part's length is
/// measured directly; it is the shorter measure, so it never comes first.</remarks>
internal static class AngledCuts
{
    public static ImmutableArray<AngledCut> Of(Layout layout, Saw saw, LengthUnit unit, int steps, int settings)
    {
        var cuts = layout.Pieces.Where(piece => piece.Ends is not null)
            .GroupBy(piece => (piece.PartId, piece.Area.SizeX, Ends: piece.Ends!))
            .SelectMany((group, order) => Both(group.Key.SizeX, group.Key.Ends, saw, unit)
                .Select(cut => (Order: order, group.Key.PartId, group.Key.Ends, cut.End, cut.Angle, cut.Measure, Pieces: group.Count())))
            .OrderBy(cut => cut.Angle.Size).ThenByDescending(cut => cut.Measure).ThenBy(cut => cut.Order).ThenBy(cut => cut.End);
        var written = ImmutableArray.CreateBuilder<AngledCut>();
        foreach (var cut in cuts)
        {
            var measure = cut.Measure;
            var before = written.Count == 0 ? null : written[^1];
            var newAngle = before?.Angle != cut.Angle.Size;
            var fresh = newAngle || before!.Measure != measure;
            settings += fresh ? 1 : 0;
            written.Add(new()
            {
                Number = steps + written.Count + 1,
                Setting = settings,
                NewSetting = fresh,
                NewAngle = newAngle,
                Angle = cut.Angle.Size,
                PartId = cut.PartId,
                End = cut.End,
                LongPoint = cut.Angle > Angle.Square ? Edge.Bottom : Edge.Top,
                AcrossThickness = cut.Ends.AcrossThickness,
                Measure = measure,
                Pieces = cut.Pieces,
            });
        }

        return written.ToImmutable();
    }

    /// <summary>The angled cuts of one blank in their order, with what each is measured to.</summary>
    public static IEnumerable<(Edge End, Angle Angle, Length Measure)> Both(Length size, EndAngles ends, Saw saw, LengthUnit unit)
    {
        var measure = size;
        foreach (var (end, angle) in new[] { (Edge.Left, ends.Start), (Edge.Right, ends.End) }.OrderBy(one => one.Item2.Size))
        {
            if (!angle.IsSquare)
            {
                measure -= angle.Taken(saw.Kerf, unit);
                yield return (end, angle, measure);
            }
        }
    }
}
