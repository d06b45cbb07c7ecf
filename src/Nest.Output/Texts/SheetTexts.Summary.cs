namespace Nest.Output.Texts;

// A text is its own description.
#pragma warning disable CS1591

/// <summary>Of the summary: what is proven, what to buy, what each part costs.</summary>
public sealed partial record SheetTexts
{
    public string SummaryStatusProven { get; init; } = "Proven: no plan for these parts can cost less.";

    public string SummaryStatusGap { get; init; } = "At most {0} % above the cheapest that is possible (proven lower bound {1}).";

    public string SummaryStatusMoney { get; init; } = "At most {0} above the cheapest that is possible (proven lower bound {1}).";

    public string SummaryStatusNoBound { get; init; } = "How close to the cheapest this plan is, is not known: no lower bound was found.";

    public string SummaryStatusPartial { get; init; } = "Not everything is cut, so nothing is said of how close to the cheapest this plan is.";

    public string SummaryStatusContradicted { get; init; } = "NO PROOF: a lower bound of {0} was found ({1}), but this plan costs less, so that bound is wrong. The plan itself was checked and can be cut. Please report this job: it shows a fault of the program.";

    public string SummaryStatusNotFound { get; init; } = "No plan was found within the limit. That proves nothing: give it more time.";

    public string SummaryStatusImpossible { get; init; } = "Proven: what is asked cannot be cut from this stock.";

    public string SummaryStatusNothing { get; init; } = "Nothing could be placed.";

    public string Buy { get; init; } = "To buy";

    public string UsedRack { get; init; } = "From the rack";

    public string CostByPart { get; init; } = "Cost by part";

    public string CostPerBatch { get; init; } = "whole batch";

    public string Part { get; init; } = "part";

    public string PerPiece { get; init; } = "per piece";

    public string Metal { get; init; } = "metal";

    public string Saw { get; init; } = "saw";

    public string Facing { get; init; } = "facing";

    public string OffcutsKept { get; init; } = "Offcuts to keep";

    public string HeaviestToLift { get; init; } = "Heaviest piece to lift: {0} ({1}){2}";
}
