using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>What the layouts of one saw took, against what was planned, and the rates that would have been right.</summary>
/// <remarks>One factor for all times of a saw: took ÷ planned over the layouts that were timed. Which of its times is wrong cannot be told from whole
/// layouts. Nothing is changed by it: it is a proposal.</remarks>
/// <param name="Saw">The saw as the plan had it.</param>
/// <param name="Layouts">Layouts that were timed.</param>
/// <param name="Planned">Their minutes, settings and loading included, all stock pieces.</param>
/// <param name="Took">Their minutes by the clock.</param>
public sealed record Measured(Saw Saw, int Layouts, decimal Planned, decimal Took)
{
    public decimal Factor => Took / Planned;

    /// <summary>The saw with all its times by the factor, to two decimals.</summary>
    public Saw Proposed => Saw with
    {
        HandlingMinutes = decimal.Round(Saw.HandlingMinutes * Factor, 2),
        SettingMinutes = decimal.Round(Saw.SettingMinutes * Factor, 2),
        LoadMinutes = decimal.Round(Saw.LoadMinutes * Factor, 2),
        DefaultCutRate = decimal.Round(Saw.DefaultCutRate / Factor, 1),
        CutRates = [.. Saw.CutRates.Select(rate => rate with { SquareCentimetresPerMinute = decimal.Round(rate.SquareCentimetresPerMinute / Factor, 1) })],
    };

    /// <summary>By saw, in the order of the job's saws.</summary>
    /// <param name="minutes">By the clock, by the layout's number; above zero.</param>
    public static ImmutableArray<Measured> Of(Plan plan, IReadOnlyDictionary<int, decimal> minutes) =>
    [
        .. CutSequencer.Order(plan).Items.Where(item => minutes.ContainsKey(item.Layout) && item.Minutes > 0m)
            .GroupBy(item => item.Sequence.SawId, StringComparer.Ordinal)
            .Select(group => new Measured(
                plan.Job.Saws.First(saw => saw.Id == group.Key), group.Count(), group.Sum(item => item.Minutes), group.Sum(item => minutes[item.Layout]))),
    ];

    /// <summary>Bars that the plan fills so far that they come short with a wider kerf: numbers of layouts, with what is missing.</summary>
    /// <remarks>Each blank's cut takes the difference once, an angled end 1 ÷ cos of it (its own rounding is left out: it errs to the safe side). What is there to
    /// take it is the rest at the end, kept or not.</remarks>
    public static ImmutableArray<(int Layout, Length Missing)> TooShort(Plan plan, Saw saw, Length kerf) =>
    [
        .. plan.Layouts.Where(layout => layout.SawId == saw.Id && plan.StockOf(layout).Form.IsBar() && !layout.Pieces.IsEmpty && kerf > saw.Kerf)
            .Select(layout => (layout.Number, Missing: More(layout, kerf - saw.Kerf) - Rest(plan, layout, saw)))
            .Where(one => one.Missing > Length.Zero),
    ];

    private static Length More(Layout layout, Length wider)
    {
        var more = wider * (layout.Pieces.Length - 1);
        foreach (var ends in layout.Pieces.Select(piece => piece.Ends).OfType<EndAngles>())
        {
            more += (ends.Start.IsSquare ? Length.Zero : ends.Start.Along(wider)) + (ends.End.IsSquare ? Length.Zero : ends.End.Along(wider));
        }

        return more;
    }

    /// <summary>What is behind the last blank: usable length less blanks and the kerfs between them.</summary>
    private static Length Rest(Plan plan, Layout layout, Saw saw) =>
        layout.Usable.SizeX - layout.Pieces.Aggregate(Length.Zero, (sum, piece) => sum + piece.Area.SizeX) - (saw.Kerf * (layout.Pieces.Length - 1));
}
