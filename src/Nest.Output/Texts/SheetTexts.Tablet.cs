namespace Nest.Output.Texts;

// A text is its own description.
#pragma warning disable CS1591

/// <summary>Of the page at the saw.</summary>
public sealed partial record SheetTexts
{
    public string TabletHint { get; init; } = "Counts stay on this device.";

    public string TabletHintDesk { get; init; } = "Counts are kept at the desk.";

    public string TabletReset { get; init; } = "Clear all";

    public string TabletCleared { get; init; } = "All is cleared.";

    public string TabletAllTicked { get; init; } = "Counted as {0}.";

    public string TabletUndo { get; init; } = "Undo";

    public string TabletCounted { get; init; } = "{0} / {1}";

    public string TabletAll { get; init; } = "all";

    public string TabletPrev { get; init; } = "Back";

    public string TabletNext { get; init; } = "Next";

    public string TabletList { get; init; } = "List";

    public string TabletOne { get; init; } = "One step";

    public string TabletStepOf { get; init; } = "step {0} of {1}";

    /// <summary>On a button: the first step of the layout that is not done.</summary>
    public string TabletFirstOpen { get; init; } = "open: step {0}";

    public string TabletLayoutDone { get; init; } = "done";

    public string TabletAllDone { get; init; } = "All is done.";

    /// <summary>Time of what is done, and of all.</summary>
    public string TabletTime { get; init; } = "{0} of {1}";

    /// <summary>On a button at the picture.</summary>
    public string TabletLarger { get; init; } = "larger";

    /// <summary>Which of several alike: bar 2 of 3.</summary>
    public string TabletPieceOf { get; init; } = "{0} {1} of {2}";

    public string TabletBar { get; init; } = "bar";

    public string TabletPlate { get; init; } = "plate";

    public string TabletStack { get; init; } = "stack";

    /// <summary>Last step of a layout.</summary>
    public string TabletFinished { get; init; } = "Layout {0} is cut";

    public string TabletCountBar { get; init; } = "Count the blanks of each bar";

    public string TabletCountPlate { get; init; } = "Count the blanks of each plate";

    public string TabletMoreParts { get; init; } = "and {0} parts more: see the cut sheet";

    /// <summary>The desk does not know the device any more.</summary>
    public string TabletOut { get; init; } = "This device is not let in any more: pair it again at the desk. What is not sent is kept here.";

    /// <summary>On a button: a stock piece went wrong.</summary>
    public string TabletMiscut { get; init; } = "Miscut";

    /// <summary>Counts that the desk has not got yet.</summary>
    public string TabletWaiting { get; init; } = "{0} not sent yet: no network. They are kept here.";
}
