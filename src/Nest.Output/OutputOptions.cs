using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Orders;
using Nest.Output.Texts;

namespace Nest.Output;

/// <summary>Paper of the cut sheet.</summary>
public enum Paper
{
    /// <summary>210 × 297 mm.</summary>
    A4,

    /// <summary>8½ × 11 in.</summary>
    Letter,
}

/// <summary>Papers by their words in jobs and on the command line.</summary>
public static class PaperWords
{
    /// <param name="word"><c>a4</c> or <c>letter</c>; else what is usual with the job's unit.</param>
    public static Paper Of(string? word, LengthUnit unit) => word switch
    {
        "a4" => Paper.A4,
        "letter" => Paper.Letter,
        _ => unit == LengthUnit.Inch ? Paper.Letter : Paper.A4,
    };
}

/// <summary>How a plan is put out.</summary>
public sealed record OutputOptions
{
    /// <summary>Printed on the sheets; null: no date, and the same plan always gives the same bytes.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>Papers to write a cut sheet for; the other sheets are written on the first.</summary>
    public IReadOnlyList<Paper> Papers { get; init; } = [Paper.A4];

    /// <summary>Whether each picture is written as SVG too, beside the PNG.</summary>
    public bool PicturesAsSvg { get; init; }

    /// <summary>Whether each sawn layout has a picture of its own, beside the cut sheet and the tablet that show them all; null: where they are not
    /// more than <see cref="MostPictures"/> with <see cref="MostPicturedPieces"/> pieces.</summary>
    public bool? Pictures { get; init; }

    /// <summary>Sawn layouts up to which each has a picture unasked: nobody looks through a folder of more, and they take most of the time of writing.</summary>
    public const int MostPictures = 50;

    /// <summary>Pieces on them, all together: a crowded layout has a page for each step and each corner.</summary>
    public const int MostPicturedPieces = 1000;

    /// <summary>Addresses and wishes on the orders.</summary>
    public Correspondence Correspondence { get; init; } = Correspondence.None;

    /// <summary>The words on all sheets.</summary>
    public SheetTexts Texts { get; init; } = SheetTexts.English;

    /// <summary>How numbers are written for people.</summary>
    public NumberStyle Numbers { get; init; } = NumberStyle.Invariant;

    /// <summary>How lengths are shown; null: as the job asks.</summary>
    public LengthFormat? Lengths { get; init; }

    /// <summary>Address of the job at the shop's desk, for devices: the cut sheet carries it with the plan's mark as a code to scan. Null: none.</summary>
    public string? SawAddress { get; init; }

    /// <summary>The order of work; null: worked out here.</summary>
    public WorkOrder? Work { get; init; }

    /// <summary>What was planned without one of the suppliers, for the sheet of what to buy; where there is none, it compares prices of the same sizes.</summary>
    public IReadOnlyList<PlannedWithout> Without { get; init; } = [];

    /// <summary>Layouts that are left without a picture of their own; 0: all have one, which are to be drawn.</summary>
    internal int WithoutPicture(Plan plan)
    {
        var sawn = plan.Layouts.Where(layout => plan.StockOf(layout).CutFor is null).ToList();
        return Pictures ?? (sawn.Count <= MostPictures && sawn.Sum(layout => layout.Pieces.Length) <= MostPicturedPieces) ? 0 : sawn.Count;
    }
}
