namespace Nest.Output.Texts;

// A text is its own description.
#pragma warning disable CS1591

/// <summary>Of the cut sheet.</summary>
public sealed partial record SheetTexts
{
    // Front page.
    public string Fetch { get; init; } = "Fetch from the rack";

    public string Delivery { get; init; } = "Take from the delivery";

    public string Mark { get; init; } = "mark";

    public string Place { get; init; } = "place";

    public string Material { get; init; } = "material";

    public string Size { get; init; } = "size";

    public string Count { get; init; } = "count";

    public string MassEach { get; init; } = "each";

    public string Layouts { get; init; } = "layout";

    public string Stock { get; init; } = "stock";

    public string Nothing { get; init; } = "Nothing.";

    public string Lift { get; init; } = "2 people or lift";

    public string LiftShort { get; init; } = "LIFT";

    public string LongShort { get; init; } = "LONG";

    public string LongBar { get; init; } = "long: 2 people or a stand";

    /// <summary>Of a delivery: so many pieces are not cut.</summary>
    public string WholeToRack { get; init; } = "{0} × whole to the rack";

    public string Total { get; init; } = "Total";

    public string TotalsLine { get; init; } = "To saw: plates and bars {0}, blanks {1}, cuts {2}, settings of fence or stop {3}";

    public string ScanToSaw { get; init; } = "To cut by phone or tablet: scan this with a device that is paired with the shop's desk.";

    public string TimeLine { get; init; } = "About {0} at the saw, without breaks.";

    public string Cautions { get; init; } = "Before you start";

    public string PlanState { get; init; } = "Cost {0}; {1}";

    public string NotCut { get; init; } = "Not in this plan";

    public string LayoutsTitle { get; init; } = "Layouts in the order of work";

    /// <summary>Title of a table that goes on from the page before.</summary>
    public string Continued { get; init; } = "{0}, continued";

    // Cautions. They defer to local rules and the machine's manual: this program knows neither.
    public string CautionManual { get; init; } =
        "The saw's manual and your local safety rules come first; where they say otherwise than this sheet, follow them.";

    public string CautionSaw { get; init; } =
        "Stop the blade before you measure, clamp, clear chips or take pieces away. Eye and ear protection on; no gloves, rings, ties, loose sleeves or long hair near a running blade.";

    public string CautionClamp { get; init; } =
        "Clamp the larger side. Never hold by hand a piece that the clamp cannot grip; support what falls off.";

    public string CautionSmall { get; init; } =
        "Small blanks and thin strips may jam beside the blade or fly: stand aside, and never pick them out at a running blade.";

    public string CautionPlates { get; init; } = "A plate on its edge tips: carry and store it so that it cannot fall. Steel is hot and springs after the cut.";

    public string CautionLift { get; init; } =
        "Above {0}: marked with {1}. Use help or a lift. Heaviest: {2}, {3} (layout {4}).";

    public string CautionLiftNone { get; init; } = "Heaviest to lift: {0}, {1} (layout {2}).";

    public string CautionLong { get; init; } = "LONG: bars of {0} and longer: two people or a stand at the far end; watch who is behind you when turning.";

    public string CautionEdges { get; init; } =
        "Sawn edges and chips cut like razors: gloves for carrying (off again at the running saw), deburr before stacking, brush and not hand for chips.";

    public string CautionChips { get; init; } =
        "{0}: chips and fines burn. Keep them dry, few and apart from other chips; no water, CO2 or ordinary powder on a fire: dry sand or a class D extinguisher.";

    public string CautionPlastic { get; init; } =
        "{0}: keep the cut cool; overheated plastic gives off harmful fumes and grabs the blade. No smoking; its chips in a bin of their own.";

    // Steps.
    public string Steps { get; init; } = "Steps";

    public string StepsMore { get; init; } = "Steps, continued";

    public string HeadFetched { get; init; } = "fetched";

    public string HeadCame { get; init; } = "came";

    public string HeadChecked { get; init; } = "checked";

    /// <summary>Supplier.</summary>
    public string DeliveryFrom { get; init; } = "From {0}";

    public string DeliveryDue { get; init; } = "due {0}";

    /// <summary>In place of a layout's number: it comes cut to size.</summary>
    public string ReadyBlank { get; init; } = "ready";

    // To fill in by hand; {0} is the room.
    public string SignDate { get; init; } = "date";

    public string SignInitials { get; init; } = "initials";

    public string SignKerf { get; init; } = "kerf measured {0} (plan {1})";

    /// <summary>Material, room.</summary>
    public string SignBlade { get; init; } = "{0}: blade {1}   speed {1}   feed {1}   (as the saw's manual says)";

    /// <summary>A layout that <c>--keep</c> took over.</summary>
    public string StaysAsPlanned { get; init; } = "stays from the plan before";

    public string SignBar { get; init; } = "bar measured {0} (at least {1})";

    public string SignPlate { get; init; } = "plate measured {0}";

    public string KeepMeasured { get; init; } = "rest measured {0}";

    public string OffcutMeasured { get; init; } = "measured, mark on the rack";

    /// <summary>Before the first cut of a plate.</summary>
    public string ChalkFirst { get; init; } = "First: chalk an arrow to the top of the picture on the plate, and on each strip its letter and the same arrow.";

    public string CutsOfPage { get; init; } = "Cuts of this page: {0}";

    // Blanks.
    public string HandOverTitle { get; init; } = "Blanks to hand over";

    public string MixedBlanks { get; init; } = "Blanks of more than one size, so more than one set-up at the mill: {0}.";

    public string FinishedSize { get; init; } = "finished size";

    public string FinishedOf { get; init; } = "finished {0}";

    public string BlankSizeHead { get; init; } = "blanks, and from where";

    /// <summary>Mark of a blank that is cut from scrap because it was wanted where it is free.</summary>
    public string Spare { get; init; } = "spare";

    public string NeededSpare { get; init; } = "needed + spare";

    public string Counted { get; init; } = "counted";

    public string FromLayout { get; init; } = "layout {0}";

    public string FromLayouts { get; init; } = "layouts {0}";

    public string FromOrder { get; init; } = "order: {0}";

    public string BinCardsTitle { get; init; } = "Cards for the bins, to cut apart";

    public string HeadCut { get; init; } = "cut";

    public string HeadSet { get; init; } = "set fence / stop to";

    public string HeadDo { get; init; } = "how";

    public string HeadOff { get; init; } = "what comes off, and where to";

    public string Rip { get; init; } = "ALONG";

    public string Crosscut { get; init; } = "ACROSS";

    public string SameSetting { get; init; } = "same setting";

    public string NewSetting { get; init; } = "new setting {0}";

    public string Against { get; init; } = "{0} edge on the fence";

    public string AgainstStop { get; init; } = "{0} end on the stop";

    /// <summary>Measure, end.</summary>
    public string MarkIt { get; init; } = "Mark {0} from the {1} end. Stop out of the way.";

    /// <summary>The rest is shorter than the clamp can hold.</summary>
    public string ClampBlank { get; init; } = "Turn the bar. Clamp the blank: the rest is too short to hold. Mark {0} from the blank's end. Stop out of the way. Saw.";

    public string NarrowBar { get; init; } = "short: swing the stop away before you saw";

    public string NarrowPlate { get; init; } = "narrow: pull the fence back so that it ends before the blade";

    /// <summary>The kerf takes all that is left beyond the size.</summary>
    public string Skim { get; init; } = "takes only the blade's width, nothing falls; needed for the size";

    public string SkimBar { get; init; } = "takes off only what the bar is longer; measure first";

    public string ShortEdge { get; init; } = "short edge: length stop and clamp";

    public string StopStill { get; init; } = "stop still there from layout {0}";

    public string TrimBar { get; init; } = "raw end off";

    /// <summary>Between materials.</summary>
    public string ChangeMaterial { get; init; } = "Before {0}: clean out the chips, keep them apart; blade, speed and coolant for this material.";

    public string RollingDirection { get; init; } = "rolling direction";

    public string RollingAlong { get; init; } = "rolling direction along the {0}";

    public string AngledTitle { get; init; } = "Angled ends";

    public string AngledHow { get; init; } = "The steps above part the blanks square. Then set the saw to the angle and cut the ends at the lengths below, measured to the long point.";

    public string AngleSet { get; init; } = "saw to {0}°";

    public string AngledEnd { get; init; } = "{0} end";

    public string LongPointNear { get; init; } = "long point on the near edge";

    public string LongPointFar { get; init; } = "long point on the far edge";

    public string LongPointBelow { get; init; } = "long point on the lower face";

    public string LongPointAbove { get; init; } = "long point on the upper face";

    public string AngledMeasure { get; init; } = "from the {0} end to the long point";

    public string EdgeLeft { get; init; } = "left";

    public string EdgeRight { get; init; } = "right";

    public string EdgeBottom { get; init; } = "bottom";

    public string EdgeTop { get; init; } = "top";

    public string TurnFirst { get; init; } = "turn it first";

    /// <summary>Seen from above; the edge that then lies on the fence.</summary>
    public string TurnLeft { get; init; } = "turn a quarter to the left; new reference: {0} edge on the fence";

    public string TurnRight { get; init; } = "turn a quarter to the right; new reference: {0} edge on the fence";

    public string TurnHalf { get; init; } = "turn by half; new reference: {0} edge on the fence";

    /// <summary>Of several strips of one size.</summary>
    public string CutsInEach { get; init; } = "{0} cuts in each";

    /// <summary>A strip from which something was cut off.</summary>
    public string RestOf { get; init; } = "rest of {0}";

    public string ThinStrip { get; init; } = "a thin strip falls: stop the blade first";

    public string FetchFromPile { get; init; } = "from the pile";

    public string ToBlanks { get; init; } = "blank";

    public string ToRack { get; init; } = "KEEP {0}: label, to the rack";

    public string ToBin { get; init; } = "scrap";

    public string ToPile { get; init; } = "to the pile";

    public string ToSaw { get; init; } = "stays on the saw";

    public string TrimCut { get; init; } = "trim";

    public string TrimOff { get; init; } = "the trim";

    public string Times { get; init; } = "{0} ×";

    public string RoundingNote { get; init; } =
        "Fractions are the nearest 1/{0} in; what a size is beyond the fraction stands behind it.";

    public string StockTicks { get; init; } = "stock pieces done";

    public string Stacked { get; init; } = "Clamp {0} on top of each other and cut them together.";

    public string Outlines { get; init; } = "Mill in this order";

    public string CutterNote { get; init; } = "Keep clamps within the hatched border; between pieces {0} for the cutter.";

    public string Strip { get; init; } = "strip";

    /// <summary>Several strips of one size: their letters, the size.</summary>
    public string StripsEach { get; init; } = "strips {0}, each {1}";

    // Offcuts.
    public string OffcutsTitle { get; init; } = "Offcuts to label";

    public string OffcutsNone { get; init; } = "This plan leaves no offcut worth keeping.";

    public string OffcutsHint { get; init; } = "Write mark, material and size on the metal itself, then put it on the rack.";

    public string Value { get; init; } = "value";

    public string From { get; init; } = "from";
}
