namespace Nest.Output.Texts;

/// <summary>Every text of pictures, sheets and files, in one table: a translation is one more instance of this record.
/// <c>{0}</c> … are filled in.</summary>
public sealed record SheetTexts
{
    public static SheetTexts English { get; } = new();

    /// <summary>Language of the texts, as HTML names it.</summary>
    public string Language { get; init; } = "en";

    // Words.
    public string Kerf { get; init; } = "kerf {0}";

    public string Minutes { get; init; } = "min";

    public string DurationMinutes { get; init; } = "{0} min";

    public string DurationHours { get; init; } = "{0} h {1:00} min";

    public string Position { get; init; } = "X, Y";

    public string PositionOf { get; init; } = "X {0}, Y {1}";

    public string Layout { get; init; } = "Layout {0} of {1}";

    public string Plate { get; init; } = "plate";

    public string FlatBar { get; init; } = "flat bar";

    public string SquareBar { get; init; } = "square bar";

    public string RoundBar { get; init; } = "round bar";

    public string CutAlike { get; init; } = "cut {0} alike";

    public string CutOne { get; init; } = "cut 1";

    public string Yield { get; init; } = "yield {0} %";

    public string Pieces { get; init; } = "{0} pieces";

    public string OnePiece { get; init; } = "1 piece";

    public string Keep { get; init; } = "KEEP {0}";

    public string Scrap { get; init; } = "scrap";

    public string Trim { get; init; } = "trim";

    public string KeepOut { get; init; } = "damaged";

    public string ReferenceEdge { get; init; } = "reference edge";

    public string FromRack { get; init; } = "from the rack: {0}";

    public string RackPlace { get; init; } = "stands at {0}";

    public string Supplier { get; init; } = "from {0}";

    public string SectionNote { get; init; } = "Length to scale. Section drawn {0} times as wide, so that it can be read.";

    public string SectionNoteNarrow { get; init; } = "Length to scale, section not.";

    public string FoldNote { get; init; } = "The bar is shown in {0} rows; each row goes on where the one above ends.";

    public string PartNumber { get; init; } = "no. {0}";

    public string KeyTitle { get; init; } = "Key";

    public string KeyMore { get; init; } = "… {0} more parts: see the next page";

    public string DetailTitle { get; init; } = "Detail {0}";

    public string DetailMark { get; init; } = "{0}";

    public string Unnumbered { get; init; } = "No room on the picture for cuts {0}: see the steps.";

    public string SawPlan { get; init; } = "Cut sheet";

    public string Plan { get; init; } = "plan {0}";

    public string Page { get; init; } = "page {0} of {1}";

    public string RulerNoteCutter { get; init; } = "Rulers and coordinates count from the plate's own corner and edges (heavy lines); nothing is trimmed; unit: {0}.";

    public string RulerNote { get; init; } = "Rulers and running measures count from the reference edges (heavy lines) once these are trimmed; unit: {0}.";

    // Front page.
    public string Fetch { get; init; } = "Fetch from the rack";

    public string Delivery { get; init; } = "Take from the delivery";

    public string Mark { get; init; } = "mark";

    public string Place { get; init; } = "place";

    public string Material { get; init; } = "material";

    public string Size { get; init; } = "size";

    public string Count { get; init; } = "count";

    public string MassEach { get; init; } = "each";

    public string MassTotal { get; init; } = "together";

    public string Layouts { get; init; } = "layout";

    public string Stock { get; init; } = "stock";

    public string Nothing { get; init; } = "Nothing.";

    public string Lift { get; init; } = "2 people or lift";

    public string LiftShort { get; init; } = "LIFT";

    public string LongBar { get; init; } = "long: 2 people or a stand";

    public string Total { get; init; } = "Total";

    public string TotalsLine { get; init; } = "{0} stock pieces, {1} blanks, {2} cuts, {3} settings of fence or stop";

    public string TimeLine { get; init; } = "About {0} at the saw, without breaks.";

    public string Cautions { get; init; } = "Before you start";

    public string PlanState { get; init; } = "Cost {0}; {1}";

    public string NotCut { get; init; } = "Not in this plan";

    public string LayoutsTitle { get; init; } = "Layouts in the order of work";

    // Cautions. They defer to local rules and the machine's manual: this program knows neither.
    public string CautionManual { get; init; } =
        "The saw's manual and your local safety rules come first; where they say otherwise than this sheet, follow them.";

    public string CautionSaw { get; init; } =
        "Stop the blade before you measure, clamp, clear chips or take pieces away. Eye protection on; no gloves or loose sleeves near a running blade.";

    public string CautionClamp { get; init; } =
        "Clamp the larger side. Never hold by hand a piece that the clamp cannot grip; support what falls off.";

    public string CautionLift { get; init; } =
        "Above {0}: marked with {1}. Use help or a lift. Heaviest: {2}, {3} (layout {4}); heaviest blank: {5}, {6}.";

    public string CautionLiftNone { get; init; } = "Heaviest to lift: {0}, {1} (layout {2}); heaviest blank: {3}, {4}.";

    public string CautionLong { get; init; } = "Bars longer than {0}: two people or a stand at the far end; watch who is behind you when turning.";

    public string CautionEdges { get; init; } =
        "Sawn edges and chips cut like razors: gloves for carrying (off again at the running saw), deburr before stacking, brush and not hand for chips.";

    public string CautionChips { get; init; } =
        "{0}: chips and fines burn. Keep them dry, few and apart from other chips; no water, CO2 or ordinary powder on a fire: dry sand or a class D extinguisher.";

    public string CautionPlastic { get; init; } =
        "{0}: keep the cut cool; overheated plastic gives off harmful fumes and grabs the blade.";

    // Steps.
    public string Steps { get; init; } = "Steps";

    public string StepsMore { get; init; } = "Steps, continued";

    public string HeadDone { get; init; } = "done";

    public string HeadCut { get; init; } = "cut";

    public string HeadOnSaw { get; init; } = "on the saw";

    public string HeadSet { get; init; } = "set fence / stop to";

    public string HeadOff { get; init; } = "what comes off, and where it goes";

    public string Rip { get; init; } = "RIP";

    public string Crosscut { get; init; } = "CROSSCUT";

    public string RipHint { get; init; } = "along";

    public string CrosscutHint { get; init; } = "across";

    public string SameSetting { get; init; } = "same setting";

    public string NewSetting { get; init; } = "new setting {0}";

    public string Against { get; init; } = "{0} edge against the fence";

    public string AgainstStop { get; init; } = "{0} end against the stop";

    public string MarkIt { get; init; } = "at a mark, stop away";

    public string FromEnd { get; init; } = "from the {0} end";

    public string NarrowBar { get; init; } = "short: swing the stop away before you saw";

    public string NarrowPlate { get; init; } = "narrow: stop must end before the blade";

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

    // Offcuts.
    public string OffcutsTitle { get; init; } = "Offcuts to label";

    public string OffcutsNone { get; init; } = "This plan leaves no offcut worth keeping.";

    public string OffcutsHint { get; init; } = "Write mark, material and size on the metal itself, then put it on the rack.";

    public string Value { get; init; } = "value";

    public string From { get; init; } = "from";

    public string RackMarkToWrite { get; init; } = "mark on the rack";

    // Summary.
    public string SummaryStatusProven { get; init; } = "Proven: no plan for these parts can cost less.";

    public string SummaryStatusGap { get; init; } = "At most {0} % above the cheapest that is possible (proven lower bound {1}).";

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

    // Tablet page.
    public string TabletHint { get; init; } = "Tap a step when it is done. Ticks stay on this device.";

    public string TabletReset { get; init; } = "Clear all ticks";

    public string TabletResetSure { get; init; } = "Clear all ticks of this plan?";

    public string TabletDone { get; init; } = "{0} of {1} done";

    public string TabletPrev { get; init; } = "Back";

    public string TabletNext { get; init; } = "Next";

    public string TabletOverview { get; init; } = "Overview";

    public string TabletNextOpen { get; init; } = "Next open step";

    // What to buy from whom, and why.
    public string BuyingTitle { get; init; } = "What to buy: {0}";

    public string BuyFrom { get; init; } = "To buy from {0}";

    public string BuyDays { get; init; } = "{0}, there in {1} days";

    public string BuyWhy { get; init; } = "why";

    public string ReasonFor { get; init; } = "for {0}";

    public string ReasonBreak { get; init; } = "from {0} pieces {1} each instead of {2}";

    public string ReasonBreakLater { get; init; } = "the pieces from the {0} on cost {1} each, those before {2}";

    public string ReasonNextBreak { get; init; } = "cheaper only from {0} pieces on";

    public string ReasonLineMinimum { get; init; } = "a line costs {0} at least";

    public string ReasonCheaper { get; init; } = "{0} asks {1} for the same, before delivery";

    public string ReasonDearer { get; init; } = "{0} asks only {1} for the same, but a delivery or minimum more";

    public string ReasonOnly { get; init; } = "no other supplier lists this size";

    public string ReasonCut { get; init; } = "ready for {0}: no sawing, no rest";

    public string ReasonExtra { get; init; } = "{0} of them whole for the rack";

    public string ReasonFree { get; init; } = "free delivery: the goods reach {0}";

    public string ReasonNotFree { get; init; } = "delivery {0}; free from {1}: {2} more";

    public string ReasonDelivery { get; init; } = "delivery {0}";

    public string ReasonTopUp { get; init; } = "{0} up to the smallest order of {1}";

    public string ReasonSum { get; init; } = "goods {0}";

    public string ReasonTotal { get; init; } = "total {0}";

    public string ReasonRate { get; init; } = "that is {0} ({1})";

    public string BuyAll { get; init; } = "All orders: {0}. What the whole batch costs, with sawing and the worth of leftovers: {1}.";

    // Quote.
    public string QuoteTitle { get; init; } = "Quote: {0}";

    public string QuoteFrom { get; init; } = "From: {0}";

    public string QuoteFor { get; init; } = "For: {0}";

    public string QuoteDates { get; init; } = "Date: {0}. These prices hold until {1}.";

    public string QuotePart { get; init; } = "part";

    public string QuotePieces { get; init; } = "pieces";

    public string QuoteTerms { get; init; } = "All prices in {0}, before tax, for all of these pieces made in one batch.";

    // Orders.
    public string OrderTitle { get; init; } = "Order: {0}";

    /// <summary>To be filled in by hand: the sheet knows neither the shop's name nor the day it is sent.</summary>
    public string OrderBlank { get; init; } = "From: ______________________________   Date: ______________   Order no.: ______________";

    public string OrderNobody { get; init; } = "stock without a supplier";

    public string OrderWanted { get; init; } = "Wanted within {0} days of this order.";

    public string OrderEach { get; init; } = "price each";

    public string OrderMassEach { get; init; } = "mass each";

    public string OrderCutFor { get; init; } = "CUT TO SIZE for {0}, {1}";

    public string OrderTolerance { get; init; } = "tolerance −0 / +{0}";

    public string OrderNeverSmaller { get; init; } = "never smaller";

    public string OrderGoods { get; init; } = "Goods";

    public string OrderTopUp { get; init; } = "Up to the smallest order";

    public string OrderDelivery { get; init; } = "Delivery";

    public string OrderRate { get; init; } = "Amounts in {0}; reckoned at {1}: {2}.";

    public string OrderMass { get; init; } = "Mass by nominal size: {0}. Prices before tax.";
}
