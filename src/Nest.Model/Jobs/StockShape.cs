using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>What a size of stock can be by its form: the one rule for tables and for pieces that are entered or corrected one by one.</summary>
public static class StockShape
{
    /// <summary>Larger than any stock that a small shop handles: a longer size is a typing mistake (common practice, no source).</summary>
    public static readonly Length Longest = Length.FromMillimetres(30_000m);

    /// <summary>What is wrong with the proportions; null when nothing is.</summary>
    public static ShapeProblem? Of(Form form, Length length, Length width, Length thickness) => form switch
    {
        Form.FlatBar when thickness > width => new("bar-on-edge", "the flat bar is thicker than it is wide", "give the larger size as its width"),
        Form.Plate when thickness > Length.Min(width, length) =>
            new("plate-too-thick", "the plate is thicker than it is wide or long", "check whether length, width and thickness are swapped"),
        _ => null,
    };
}

/// <param name="Rule">Short name.</param>
/// <param name="Message">What is wrong.</param>
/// <param name="Advice">What to do.</param>
public sealed record ShapeProblem(string Rule, string Message, string Advice);
