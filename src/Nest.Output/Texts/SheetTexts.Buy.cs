namespace Nest.Output.Texts;

// A text is its own description.
#pragma warning disable CS1591

/// <summary>Texts of the screen, of what to buy and of orders.</summary>
public sealed partial record SheetTexts
{
    // Screen.
    public string ScreenAll { get; init; } = "all {0} pieces placed";

    public string ScreenSome { get; init; } = "{0} of {1} pieces placed, {2} cannot be cut";

    /// <summary>Cost, cost of a piece.</summary>
    public string ScreenCost { get; init; } = "Costs {0} ({1} a piece). {2}";

    public string ScreenMore { get; init; } = "More --seconds may find better.";

    public string ScreenPay { get; init; } = "To pay now {0}";

    public string ScreenLast { get; init; } = "last delivery in {0} days";

    public string ScreenWanted { get; init; } = "wanted in {0}";

    /// <summary>Time, cuts, settings, pieces of stock.</summary>
    public string ScreenSaw { get; init; } = "At the saw {0}: cuts {1}, settings {2}, plates and bars {3}";

    public string ScreenOrders { get; init; } = "Orders";

    public string ScreenNoOrders { get; init; } = "Nothing is bought.";

    public string Lines { get; init; } = "lines";

    public string Arrives { get; init; } = "arrives";

    public string InDays { get; init; } = "in {0} days";

    public string InOneDay { get; init; } = "in 1 day";

    public string ScreenFromRack { get; init; } = "From the rack: {0}.";

    /// <summary>Count, value.</summary>
    public string ScreenToRack { get; init; } = "To the rack: leftovers {0}, worth {1}.";

    public string ScreenWhole { get; init; } = "Bought whole for the rack: {0} pieces; why is in buy.pdf.";

    public string ScreenPrint { get; init; } = "Print";

    public string ScreenSend { get; init; } = "Order";

    public string ScreenTablet { get; init; } = "Tablet";

    /// <summary>Layouts.</summary>
    public string ScreenNoPictures { get; init; } = "No picture file of each of the {0} layouts: cut sheet and tablet show them all; --all-pictures writes them";

    public string ScreenDetails { get; init; } = "All of it: --details on the command, or {0}";

    public string AndMore { get; init; } = "and {0} more";

    /// <summary>Spares laid, wanted, which.</summary>
    public string SparesLaid { get; init; } = "Free spares: {0} of {1}, cut from scrap, no metal more: {2}.";

    public string SparesNone { get; init; } = "Free spares: 0 of {0}; no place was found for one in the scrap.";

    /// <summary>Wanted, amount.</summary>
    public string SparesNoneSoCheap { get; init; } = "Free spares: 0 of {0}; no place was found in the scrap for one that costs {1} at most.";

    /// <summary>Amount.</summary>
    public string SparesCost { get; init; } = "Their time at saw and mill costs {0}, which is in no price above.";

    // The owner's rules.
    public string RulesTitle { get; init; } = "Rules that this plan keeps to";

    public string RuleAllParts { get; init; } = "all parts";

    public string RuleOneStock { get; init; } = "{0}: each from one stock";

    public string RuleOneSize { get; init; } = "{0}: each with blanks of one size";

    public string RuleCertificate { get; init; } = "{0}: only metal with a certificate";

    /// <summary>Parts, stock.</summary>
    public string RuleOnly { get; init; } = "{0}: only from {1}";

    /// <summary>Parts, stock.</summary>
    public string RuleNot { get; init; } = "{0}: not from {1}";

    /// <summary>Parts, suppliers.</summary>
    public string RuleNotFrom { get; init; } = "{0}: nothing bought from {1}";

    /// <summary>Parts, length.</summary>
    public string RuleThicker { get; init; } = "{0}: stock at most {1} thicker than the part";

    public string RuleSuppliers { get; init; } = "at most {0} suppliers";

    /// <summary>Leftovers.</summary>
    public string RuleFirst { get; init; } = "to go first where that saves anything: {0}";

    /// <summary>Layouts.</summary>
    public string RuleKept { get; init; } = "as the earlier plan had them: layouts {0}";

    // What to buy.
    public string BuySupplier { get; init; } = "supplier";

    public string BuyMass { get; init; } = "mass";

    public string DeliveryShare { get; init; } = "delivery, share";

    public string FewerTitle { get; init; } = "One supplier fewer";

    /// <summary>What the lines below say, and what they do not.</summary>
    public string FewerNote { get; init; } = "These layouts as they are, the same sizes bought from the others; what is paid for all orders with delivery. A plan made without a supplier may be cheaper: nest compare JOB --set without_supplier=NAME";

    /// <summary>Bound.</summary>
    public string FewerNotePlanned { get; init; } =
        "Planned anew, briefly: layouts from the others stay, what comes from the one left out is cut from other stock. So the batch costs at most so much more; no plan at all costs less than {0}. To search longer: nest compare JOB --set without_supplier=NAME";

    /// <summary>Supplier, money, cost of the batch, money to pay and whether more or less, last delivery.</summary>
    public string FewerPlanned { get; init; } = "Without {0}: at most {1} more for the batch ({2}); to pay {3} {4}{5}.";

    /// <summary>Supplier, money, cost of the batch.</summary>
    public string FewerPlannedLess { get; init; } = "Without {0}: {1} less for the batch ({2}). The search was too short: give it more --seconds.";

    /// <summary>Supplier, parts.</summary>
    public string FewerOnlyHis { get; init; } = "Without {0}: not possible, nothing else serves {1}.";

    public string FewerPayMore { get; init; } = "more";

    public string FewerPayLess { get; init; } = "less";

    /// <summary>Days.</summary>
    public string FewerLast { get; init; } = "; last delivery {0}";

    /// <summary>Supplier, money, others.</summary>
    public string FewerMore { get; init; } = "Without {0}: {1} more to pay; the same sizes come from {2}.";

    public string FewerLess { get; init; } = "Without {0}: {1} less to pay; the same sizes come from {2}. A longer search may find a better plan.";

    /// <summary>Supplier, lines that nobody else lists, his lines, his delivery.</summary>
    public string FewerMissing { get; init; } = "Without {0}: only with other layouts, as nobody else lists {1} of {2} lines in that size. Delivery: {3}.";

    public string NotUsedTitle { get; init; } = "On the rack, would fit, not used";

    /// <summary>Parts.</summary>
    public string NotUsedFits { get; init; } = "fits {0}";

    public string NotUsedProven { get; init; } = "no plan with it is cheaper (proven)";

    public string NotUsedTried { get; init; } = "no cheaper plan with it was found";

    public string RackValue { get; init; } = "value there";

    public string OrderedOn { get; init; } = "ordered on / by";

    // Orders.
    public string OrderFrom { get; init; } = "From";

    public string OrderTo { get; init; } = "To";

    public string OrderDeliverTo { get; init; } = "Deliver to";

    public string OrderNumber { get; init; } = "Order no. {0}";

    public string OrderDay { get; init; } = "Date {0}";

    public string OrderCustomer { get; init; } = "our number with you: {0}";

    public string OrderTax { get; init; } = "tax no. {0}";

    public string OrderConfirm { get; init; } = "Please confirm prices and day of delivery.";

    /// <summary>Days, then the day.</summary>
    public string OrderBy { get; init; } = "Wanted within {0} days of this order, by {1}.";

    public string OrderByOneDay { get; init; } = "Wanted within {0} day of this order, by {1}.";

    public string OrderCertificates { get; init; } = "Certificates wanted: {0}.";

    public string OrderFullLengths { get; init; } = "Bars in full lengths, please: the cuts are planned on them.";

    public string OrderCutNote { get; init; } = "Pieces cut to size: {0} on length and width; thickness as the plate comes.";

    public string OrderRolling { get; init; } = "rolling direction along {0}";

    public string OrderCutParts { get; init; } = "CUT TO SIZE for {0}";

    public string OrderRounded { get; init; } = "Line totals count; prices each are rounded to the cent.";

    public string OrderSubject { get; init; } = "Subject: order {0}";

    public string OrderHello { get; init; } = "Good day,";

    public string OrderAsk { get; init; } = "please deliver the following; the same list is attached as PDF and CSV.";

    /// <summary>A job among several in one plan: its name and sets.</summary>
    public string JobSets { get; init; } = "{0}, {1} sets";
}
