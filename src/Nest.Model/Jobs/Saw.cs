using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What kind of cutting a machine does.</summary>
public enum SawKind
{
    /// <summary>Crosscuts bars.</summary>
    BarSaw,

    /// <summary>Through-cuts plates from edge to edge.</summary>
    PlateSaw,

    /// <summary>Mills or profiles parts out of a plate: free layout; the kerf is the gap between parts.</summary>
    Cutter,
}

/// <summary>What is cut away (saw) or kept free for clamps (cutter) at each edge before anything is measured from it. A saw's trim
/// includes its cut. On bars only left and right count.</summary>
public readonly record struct EdgeTrims(Length Left, Length Right, Length Bottom, Length Top);

/// <summary>How much section a saw cuts in a minute in one family of materials.</summary>
public readonly record struct CutRate(string Family, decimal SquareCentimetresPerMinute);

/// <summary>A saw or cutter of the shop.</summary>
public sealed record Saw
{
    public required string Id { get; init; }

    public required SawKind Kind { get; init; }

    /// <summary>Metal that one cut turns into chips; for a cutter: the gap between parts.</summary>
    public required Length Kerf { get; init; }

    /// <summary>Trims at the four edges of stock that is not clean there.</summary>
    public EdgeTrims Trims { get; init; }

    /// <summary>How far a blank may be from its size when it is cut to the stop or at a mark. On bars nothing else adds to it: no blank is
    /// what is left over.</summary>
    public Length Tolerance { get; init; }

    /// <summary>Shortest piece the clamp can hold; zero: no such limit.</summary>
    public Length ShortestHeld { get; init; }

    /// <summary>Longest cut a plate saw makes; largest section width a bar saw takes; null: no limit.</summary>
    public Length? LargestCut { get; init; }

    /// <summary>Thickest stock it takes; null: no limit.</summary>
    public Length? LargestThickness { get; init; }

    /// <summary>Longest stock there is room for, by its longer nominal side: the floor before and behind a bar saw, the bed of a cutter; null: no
    /// limit.</summary>
    public Length? LongestStock { get; init; }

    /// <summary>Most pieces per bar that its stop allows; null: no limit.</summary>
    public int? MostPieces { get; init; }

    /// <summary>Most stages of through-cuts; null: any depth.</summary>
    public int? Stages { get; init; }

    /// <summary>With <see cref="Stages"/>: one more cut that only separates a piece from waste.</summary>
    public bool TrimmingCut { get; init; }

    /// <summary>Direction of the first cut; null: either.</summary>
    public CutDirection? FirstCut { get; init; }

    /// <summary>Cost of an hour at this saw, in the job's currency.</summary>
    public decimal HourlyRate { get; init; }

    /// <summary>Charge for each cut beside the time, in the job's currency.</summary>
    public decimal ChargePerCut { get; init; }

    /// <summary>Minutes to handle one cut (bring, clamp, take away).</summary>
    public decimal HandlingMinutes { get; init; }

    /// <summary>Minutes to set fence or stop once, or to measure and mark a cut; paid once per layout, however many pieces are cut alike.</summary>
    public decimal SettingMinutes { get; init; }

    /// <summary>Minutes to fetch, load and label one piece of stock, however many cuts it takes.</summary>
    public decimal LoadMinutes { get; init; }

    /// <summary>Rates by family of materials.</summary>
    public ImmutableArray<CutRate> CutRates { get; init; } = [];

    /// <summary>Rate for families that <see cref="CutRates"/> does not name.</summary>
    public decimal DefaultCutRate { get; init; } = 50m;

    /// <summary>Greatest height of a stack cut at once.</summary>
    public Length StackHeight { get; init; }

    /// <summary>Name that stands for the supplier's saw where stock comes cut to size.</summary>
    public const string SupplierId = "supplier";

    /// <summary>The supplier's saw: what it costs is in the price of the piece.</summary>
    public static Saw AtSupplier(Stock stock) => new()
    {
        Id = SupplierId, Kind = stock.Form.IsBar() ? SawKind.BarSaw : SawKind.PlateSaw, Kerf = Length.Zero,
    };

    /// <summary>Square centimetres per minute in this family.</summary>
    public decimal RateFor(string family)
    {
        foreach (var rate in CutRates)
        {
            if (string.Equals(rate.Family, family, StringComparison.OrdinalIgnoreCase))
            {
                return rate.SquareCentimetresPerMinute;
            }
        }

        return DefaultCutRate;
    }

    /// <summary>Whether this machine can cut this stock at all: kind, thickness, length and, on bars, section width.</summary>
    public bool Takes(Stock stock) =>
        (Kind == SawKind.BarSaw) == stock.Form.IsBar()
        && (LargestThickness is not { } thickest || stock.Thickness <= thickest)
        && (LongestStock is not { } longest || Length.Max(stock.Length, stock.Width) <= longest)
        && (Kind != SawKind.BarSaw || LargestCut is not { } widest || stock.Width <= widest);

    /// <summary>The trims that remain on this stock: none on an edge that is clean (a cutter keeps its border all round).</summary>
    public EdgeTrims TrimsOn(Stock stock)
    {
        if (Kind == SawKind.Cutter)
        {
            return Trims;
        }

        var clean = stock.CleanEdges;
        var bar = stock.Form.IsBar();
        return new(
            clean.Left ? Length.Zero : Trims.Left,
            clean.Right ? Length.Zero : Trims.Right,
            bar || clean.Bottom ? Length.Zero : Trims.Bottom,
            bar || clean.Top ? Length.Zero : Trims.Top);
    }
}
