namespace Nest.Output.Texts;

// A text is its own description.
#pragma warning disable CS1591

/// <summary>Every text of pictures, sheets and files, in one table: a translation is one more instance of this record.
/// <c>{0}</c> … are filled in.</summary>
public sealed partial record SheetTexts
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

    public string Layout { get; init; } = "Layout {0}";

    public string Plate { get; init; } = "plate";

    public string FlatBar { get; init; } = "flat bar";

    public string SquareBar { get; init; } = "square bar";

    public string RoundBar { get; init; } = "round bar";

    public string HexBar { get; init; } = "hex bar";

    public string RoundTube { get; init; } = "round tube";

    public string SquareTube { get; init; } = "square tube";

    public string RectangularTube { get; init; } = "rectangular tube";

    public string AngleBar { get; init; } = "angle";

    public string Channel { get; init; } = "channel";

    public string Tee { get; init; } = "tee";

    public string Profile { get; init; } = "profile";

    /// <summary>Head of a layout's pages: its number, its place in the order of work, how many there are to cut.</summary>
    public string LayoutInOrder { get; init; } = "Layout {0} · {1} of {2} to cut";

    /// <summary>Number, layouts to cut: where the layouts are numbered in the order of work.</summary>
    public string LayoutToCut { get; init; } = "Layout {0} of {1} to cut";

    public string OnePlate { get; init; } = "1 plate";

    public string PlatesAlike { get; init; } = "{0} plates alike";

    public string OneBar { get; init; } = "1 bar";

    public string BarsAlike { get; init; } = "{0} bars alike";

    public string Yield { get; init; } = "yield {0} %";

    public string Pieces { get; init; } = "{0} pieces";

    public string OnePiece { get; init; } = "1 piece";

    public string Keep { get; init; } = "KEEP {0}";

    public string Scrap { get; init; } = "scrap";

    public string Trim { get; init; } = "trim";

    public string KeepOut { get; init; } = "damaged";

    public string FromRack { get; init; } = "from the rack: {0}";

    public string RackPlace { get; init; } = "stands at {0}";

    public string Supplier { get; init; } = "from {0}";

    public string BarScale { get; init; } = "Length {0}, height free.";

    public string ScaleOf { get; init; } = "scale {0}";

    public string MachineStop { get; init; } = "stop";

    public string MachineBlade { get; init; } = "blade";

    public string MachineVise { get; init; } = "vise";

    /// <summary>Where the mark of a kept rest is written on the metal.</summary>
    public string WriteHere { get; init; } = "write it here";

    // Where the metal goes.
    public string BalanceUsed { get; init; } = "blanks";

    public string BalanceKept { get; init; } = "kept";

    public string BalanceKerf { get; init; } = "kerf";

    public string BalanceWaste { get; init; } = "waste";

    /// <summary>Letters of strips, under a small picture.</summary>
    public string LettersNotShown { get; init; } = "no room for {0}";

    public string LettersMany { get; init; } = "no room for {0} letters";

    public string BreakDownTitle { get; init; } = "Break-down";

    /// <summary>Stage, cuts.</summary>
    public string BreakDownStage { get; init; } = "{0}.  Cuts {1}";

    /// <summary>The same of a stage of one cut.</summary>
    public string BreakDownStageOne { get; init; } = "{0}.  Cut {1}";

    public string FoldNote { get; init; } = "{0} rows: each goes on below.";

    public string PartNumber { get; init; } = "no. {0}";

    public string KeyTitle { get; init; } = "Key";

    public string DetailTitle { get; init; } = "Detail {0}";

    public string SawPlan { get; init; } = "Cut sheet";

    public string Plan { get; init; } = "plan {0}";

    public string Page { get; init; } = "page {0} of {1}";

    public string RulerNoteCutter { get; init; } = "Coordinates count from the plate's own corner and edges (heavy lines); nothing is trimmed. Sizes are across × up the picture; unit: {0}.";

    public string RulerNote { get; init; } = "Measures beside cuts count from the reference edges (heavy lines) once these are trimmed. Sizes are across × up the picture; unit: {0}. Letters are those of the strips.";

    // What to buy from whom, and why.
    public string BuyingTitle { get; init; } = "What to buy: {0}";

    public string BuyFrom { get; init; } = "To buy from {0}";

    public string BuyDays { get; init; } = "{0}, arrives in {1} days";

    public string BuyOneDay { get; init; } = "{0}, there in {1} day";

    public string BuyWhy { get; init; } = "why";

    public string ReasonFor { get; init; } = "for {0}";

    public string ReasonBreak { get; init; } = "from {0} pieces {1} each instead of {2}";

    public string ReasonBreakLater { get; init; } = "the pieces from the {0} on cost {1} each, those before {2}";

    public string ReasonLineMinimum { get; init; } = "a line costs {0} at least";

    public string ReasonCheaper { get; init; } = "{0} asks {1} for the same, before delivery";

    public string ReasonDearer { get; init; } = "{0} asks only {1} for the same, but a delivery or minimum more";

    /// <summary>Count, stock, goals.</summary>
    public string ReasonExtra { get; init; } = "{0} × {1} whole for the rack, {2}";

    public string WholeMinimum { get; init; } = "to reach the smallest order of {0} at {1}";

    public string WholeFree { get; init; } = "to reach free delivery from {0} on at {1}";

    public string WholeBreak { get; init; } = "to reach the price from {0} pieces on";

    public string WholeLine { get; init; } = "because a line costs {0} at least";

    public string WholeWorth { get; init; } = "because they are worth their price there";

    public string ReasonMore { get; init; } = " and {0} more";

    public string WholeTitle { get; init; } = "Bought whole for the rack, not to cut";

    public string ReasonFree { get; init; } = "free delivery: the goods reach {0}";

    public string ReasonNotFree { get; init; } = "delivery {0} (free from {1}, {2} short)";

    public string ReasonDelivery { get; init; } = "delivery {0}";

    public string ReasonTopUp { get; init; } = "{0} up to the smallest order of {1}";

    public string ReasonSum { get; init; } = "goods {0}";

    public string ReasonTotal { get; init; } = "total {0}";

    public string ReasonRate { get; init; } = "that is {0} ({1})";

    public string CashNow { get; init; } = "To pay now: {0} (orders with delivery)";

    public string CashRack { get; init; } = "taken from the rack, at its value there";

    public string CashSaw { get; init; } = "time and charges at the saw";

    public string CashLoading { get; init; } = "fetching, loading and labelling stock";

    public string CashSizes { get; init; } = "setting the mill up for further sizes of a part";

    public string CashOrdering { get; init; } = "work with order lines and suppliers";

    public string CashSettings { get; init; } = "setting fence and stop";

    public string CashCarried { get; init; } = "settings carried over to the next layout";

    public string CashFacing { get; init; } = "milling off surplus";

    public string CashOffcuts { get; init; } = "offcuts that go to the rack";

    public string CashWhole { get; init; } = "whole pieces that go to the rack";

    public string CashScrap { get; init; } = "scrap";

    public string CashCost { get; init; } = "= {0}, what the batch costs.";

    // Quote.
    public string QuoteTitle { get; init; } = "Quote: {0}";

    public string QuoteFrom { get; init; } = "From: {0}";

    public string QuoteFor { get; init; } = "For: {0}";

    public string QuoteDates { get; init; } = "Date: {0}. These prices hold until {1}.";

    public string QuotePart { get; init; } = "part";

    public string QuotePieces { get; init; } = "pieces";

    /// <summary>Instead of the title where no part is machined.</summary>
    public string QuoteBlanksTitle { get; init; } = "Quote for sawn blanks: {0}";

    public string QuoteFinished { get; init; } = "finished size";

    public string QuoteBlanks { get; init; } = "Sawn blanks only, as much larger than the finished sizes as machining needs. NO MACHINING IS INCLUDED.";

    public string QuoteSomeBlanks { get; init; } = "Sawn blanks only, not machined: {0}. Of all others sawing and machining are included.";

    public string QuoteMachined { get; init; } = "Sawing and machining are included.";

    public string QuotePerSet { get; init; } = "in a set";

    public string QuoteOneSet { get; init; } = "each, {0} set";

    public string QuoteSets { get; init; } = "each, {0} sets";

    public string QuoteTotalOneSet { get; init; } = "{0} set";

    public string QuoteTotalSets { get; init; } = "{0} sets, {1} a set";

    public string QuoteTermsSets { get; init; } = "All prices in {0}, before tax, for so many sets made in one batch.";

    public string TaxLine { get; init; } = "{0} {1} %";

    public string TaxTotal { get; init; } = "Total with {0}";

    public string QuoteTerms { get; init; } = "All prices in {0}, before tax, for all of these pieces made in one batch.";

    // Orders.
    public string OrderTitle { get; init; } = "Order: {0}";

    public string OrderNobody { get; init; } = "stock without a supplier";

    public string OrderWanted { get; init; } = "Wanted within {0} days of this order.";

    public string OrderWantedOneDay { get; init; } = "Wanted within {0} day of this order.";

    public string OrderEach { get; init; } = "price each";

    public string OrderMassEach { get; init; } = "mass each";

    public string OrderTolerance { get; init; } = "tolerance −0 / +{0}";

    public string OrderNeverSmaller { get; init; } = "never smaller";

    public string OrderGoods { get; init; } = "Goods";

    public string OrderTopUp { get; init; } = "Up to the smallest order";

    public string OrderDelivery { get; init; } = "Delivery";

    public string OrderRate { get; init; } = "Amounts in {0}, each line rounded to the cent; the plan reckons at {1} without rounding before the total: {2}.";

    public string OrderMass { get; init; } = "Mass by nominal size: {0}. Prices before tax.";
}
