using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>Looks a job over before anything is planned: contradictions that the readers cannot see line by line.</summary>
/// <remarks>Errors refuse the job, notes are worth reading (a part that no stock serves is a note: the rest is still planned; why
/// nothing fits is said by the blank). All findings at once. Pure.</remarks>
public static class JobChecker
{
    public static ImmutableArray<Finding> Check(Job job)
    {
        var findings = new List<Finding>();
        General(job, findings);
        Materials(job, findings);
        Parts(job, findings);
        Stocks(job, findings);
        Saws(job, findings);
        Rules(job, findings);
        if (!findings.Exists(finding => finding.Severity == Severity.Error))
        {
            Fits(job, findings);
        }

        return [.. findings];
    }

    private static void Fits(Job job, List<Finding> findings)
    {
        foreach (var blank in BlankSizer.Size(job))
        {
            var part = blank.Part;
            if (blank.Fits.IsEmpty)
            {
                Note(findings, "nothing-fits", $"part {part.Id}", "no stock of the job serves it",
                    "Allow other forms, add stock, or reduce its allowances; the rest is planned without it.");
            }

            if (part.Ends is { Cuts: > 0 } && !SawnEnds.AsSawn(part, blank.Allowances))
            {
                Note(findings, "angle-not-sawn", $"part {part.Id}", "its ends are machined after sawing, so they are sawn square",
                    "Give an end clean-up of 0 (and no grip in a chuck) if the saw is to make the angles.");
            }
        }
    }

    private static void General(Job job, List<Finding> findings)
    {
        if (job.Batch < 1)
        {
            Error(findings, "batch", "job", $"{job.Batch} sets cannot be made", "Give a batch of 1 or more.");
        }

        if (job.Parts.Length == 0)
        {
            Error(findings, "no-parts", "job", "there are no parts", "List at least one part.");
        }

        if (job.Saws.Length == 0)
        {
            Error(findings, "no-saw", "job", "there is no saw", "Describe at least one saw.");
        }

        if (job.Mill.DefaultRemovalRate <= 0m || job.Mill.RemovalRates.Any(rate => rate.CubicCentimetresPerMinute <= 0m))
        {
            Error(findings, "mill-rate", "mill", "a removal rate is not above zero", "Give cubic centimetres per minute.");
        }

        if (job.MostSuppliers < 1)
        {
            Error(findings, "suppliers", "job", "it may be bought from no supplier", "Allow at least one, or leave it out.");
        }

        foreach (var supplier in job.Suppliers)
        {
            if (supplier.MinimumOrder < Money.Zero || supplier.Delivery < Money.Zero || supplier.FreeDeliveryFrom < Money.Zero
                || supplier.CutPieceCharge < Money.Zero)
            {
                Error(findings, "negative-price", $"supplier {supplier.Name}", "an amount is negative", "Give zero or more.");
            }
        }

        if (job.Mill.HourlyRate < 0m)
        {
            Error(findings, "negative-rate", "mill", "the hourly rate is negative", "Give zero or more.");
        }
    }

    private static void Materials(Job job, List<Finding> findings)
    {
        Duplicates(findings, "material", job.Materials.Select(material => material.Id), StringComparer.OrdinalIgnoreCase);
        foreach (var material in job.Materials)
        {
            if (material.Density <= 0m)
            {
                Error(findings, "density", $"material {material.Id}", "the density is not above zero", "Give it in kg/m³.");
            }

            if (material.ScrapPricePerKilogram < 0m)
            {
                Error(findings, "negative-price", $"material {material.Id}", "the scrap price is negative", "Give zero or more.");
            }
        }
    }

    private static void Parts(Job job, List<Finding> findings)
    {
        Duplicates(findings, "part", job.Parts.Select(part => part.Id), StringComparer.Ordinal);
        foreach (var part in job.Parts)
        {
            var where = $"part {part.Id}";
            if (part.Length <= Length.Zero || part.Width <= Length.Zero || part.Thickness <= Length.Zero)
            {
                Error(findings, "part-size", where, "a size is not above zero", "Give the finished size.");
            }

            if (part.Round && part.Width != part.Thickness)
            {
                Error(findings, "round-part", where, "width and thickness of a round part differ", "Give its diameter.");
            }

            if (part.Quantity < 0 || part.Extra < 0 || ((long)part.Quantity * job.Batch) + part.Extra is < 1 or > 1_000_000)
            {
                Error(findings, "quantity", where, $"quantity {part.Quantity} × {job.Batch} + {part.Extra} extra is not from 1 to 1000000",
                    "Correct quantity or extra, or drop the part.");
            }

            if (part.FreeSpares is < 0 or > 1_000_000 || (part.FreeSpares > 0 && part.PerBlank is not null))
            {
                Error(findings, "free-spares", where, part.PerBlank is null ? $"{part.FreeSpares} free spares are not from 0 to 1000000" : "it is milled several from one blank, and free spares are laid singly",
                    "Leave the free spares out and ask for extra pieces.");
            }

            if (part.Forms == Forms.None)
            {
                Error(findings, "no-form", where, "no stock form is allowed", "Allow at least one of plate, flat, square, round.");
            }

            if (JobSections.Fault(part) is { } fault)
            {
                Error(findings, fault.Rule, where, fault.Message, fault.Advice);
            }

            Known(job, findings, where, part.MaterialId);
            Negative(findings, where, part.Allowances);
            if (part is { PerBlank: { } several, Gang: null } && GangFault(job, part, several) is var (message, advice))
            {
                Error(findings, "per-blank", where, message, advice);
            }
        }
    }

    /// <summary>Why a part cannot be milled several from one blank; null: it can.</summary>
    private static (string Message, string Advice)? GangFault(Job job, Part part, PerBlank rule)
    {
        if (part.Round || part.Detail is not null || part.Ends is not null)
        {
            return ("only flat parts with square ends are milled several from one blank", "leave 'per blank' empty");
        }

        if (rule.Counts.Any(count => count is < 1 or > Blanks.GangOptions.MostPerBlank) || rule.Gap < Length.Zero || (rule.Gap == Length.Zero && (rule.IsAny || rule.Counts[^1] > 1)))
        {
            return ($"several from one blank want a gap between them, and at most {Blanks.GangOptions.MostPerBlank}", "fill in 'gap between': the cutter, and what finishing takes on both sides");
        }

        if (rule.IsAny && job.Mill is { TravelX: null, TravelY: null, ViseOpening: null })
        {
            return ("any number per blank is asked for, and nothing says what the mill takes", "set travel_x, travel_y or vise_opening in [mill], or name numbers, as 2-6");
        }

        return rule.With is not { } name ? null
            : job.Parts.FirstOrDefault(one => string.Equals(one.Id, name, StringComparison.OrdinalIgnoreCase)) is not { } mate || mate == part
                ? ($"it shares its blanks with '{name}', which is no other part", "name a part of this job in 'per blank with'")
            : !string.Equals(mate.PerBlank?.With, part.Id, StringComparison.OrdinalIgnoreCase) || (mate.PerBlank! with { With = null }).Key != (rule with { With = null }).Key
                ? ($"'{mate.Id}' does not say the same of its blanks", "give both rows the same 'per blank' and 'gap between', and name each in the other's 'per blank with'")
            : (part with { Id = "", Quantity = 0, Extra = 0, ExtraPercent = null, PerBlank = null, Note = "", MillMinutes = null, SetUpMinutes = null, SetUps = null })
                != (mate with { Id = "", Quantity = 0, Extra = 0, ExtraPercent = null, PerBlank = null, Note = "", MillMinutes = null, SetUpMinutes = null, SetUps = null })
                ? ($"'{mate.Id}' is not of the same size, material and treatment", "only two hands of one part share a blank")
            : null;
    }

    private static void Stocks(Job job, List<Finding> findings)
    {
        Duplicates(findings, "stock", job.Stocks.Select(stock => stock.Id), StringComparer.Ordinal);
        Duplicates(findings, "rack mark", job.Stocks.Select(stock => stock.RackMark).OfType<string>(), StringComparer.Ordinal);
        var parts = job.Parts.Select(part => part.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var stock in job.Stocks)
        {
            var where = $"stock {stock.Id}";
            Known(job, findings, where, stock.MaterialId);
            if (stock.MinLength <= Length.Zero || stock.MinWidth <= Length.Zero || stock.MinThickness <= Length.Zero)
            {
                Error(findings, "stock-size", where, "a smallest size is not above zero", "Correct size or tolerance.");
            }

            if (stock.MinLength > stock.Length || stock.MinWidth > stock.Width || stock.MinThickness > stock.Thickness)
            {
                Error(findings, "stock-size", where, "a smallest size is above the nominal size", "Correct size or tolerance.");
            }

            if (stock.Form is Form.SquareBar or Form.RoundBar && stock.Width != stock.Thickness)
            {
                Error(findings, "stock-size", where, "width and thickness of a square or round bar differ", "Give side or diameter once.");
            }

            if (stock.Form == Form.FlatBar && stock.Width < stock.Thickness)
            {
                Error(findings, "stock-size", where, "a flat bar is thicker than wide", "Swap width and thickness.");
            }

            if (JobSections.Fault(stock) is { } fault)
            {
                Error(findings, fault.Rule, where, fault.Message, fault.Advice);
            }

            if (stock.PiecePrice < Money.Zero)
            {
                Error(findings, "negative-price", where, "the price is negative", "Give zero or more.");
            }

            var breaks = stock.Terms.Breaks;
            if (breaks.Any(step => step.From < 2 || step.PiecePrice < Money.Zero)
                || Enumerable.Range(1, Math.Max(0, breaks.Length - 1)).Any(index => breaks[index].From <= breaks[index - 1].From))
            {
                Error(findings, "price-breaks", where, "price breaks must rise from 2 pieces on, with prices of zero or more",
                    "Sort them by quantity.");
            }

            if (stock.CutFor is { } cutFor && !parts.Contains(cutFor))
            {
                Error(findings, "cut-for", where, $"it is cut to size for {cutFor}, which is no part of the job", "Correct the name.");
            }

            if (stock.Available < 0)
            {
                Error(findings, "available", where, "fewer than none are available", "Give zero or more, or leave it out.");
            }

            if (stock.Form != Form.Plate && stock.KeepOuts.Length > 0)
            {
                Error(findings, "keep-out", where, "a bar has a damaged area", "Cut it out and list the sound lengths as leftovers.");
            }
        }
    }

    private static void Saws(Job job, List<Finding> findings)
    {
        Duplicates(findings, "saw", job.Saws.Select(saw => saw.Id), StringComparer.Ordinal);
        foreach (var saw in job.Saws)
        {
            var where = $"saw {saw.Id}";
            if (saw.Kerf <= Length.Zero)
            {
                Error(findings, "no-kerf", where, "it has no kerf", "Give the width of the cut, of a cutter the gap between parts.");
            }

            var trims = saw.Trims;
            if (trims.Left < Length.Zero || trims.Right < Length.Zero || trims.Bottom < Length.Zero || trims.Top < Length.Zero
                || saw.ShortestHeld < Length.Zero || saw.StackHeight < Length.Zero)
            {
                Error(findings, "negative-size", where, "a trim, the shortest held piece or the stack height is negative", "Give zero or more.");
            }

            if (saw.DefaultCutRate <= 0m || saw.CutRates.Any(rate => rate.SquareCentimetresPerMinute <= 0m))
            {
                Error(findings, "cut-rate", where, "a cut rate is not above zero", "Give square centimetres per minute.");
            }

            if (saw.HourlyRate < 0m || saw.ChargePerCut < 0m || saw.HandlingMinutes < 0m || saw.SettingMinutes < 0m || saw.LoadMinutes < 0m)
            {
                Error(findings, "negative-rate", where, "a rate, charge or time is negative", "Give zero or more.");
            }

            if (saw is { MostPieces: not null, Kind: not SawKind.BarSaw })
            {
                Error(findings, "most-pieces-on-plate", where, "it limits the pieces of a bar, but cuts plates", "Leave most pieces out.");
            }

            if (saw.Stages < 1 || saw.MostPieces < 1)
            {
                Error(findings, "saw-limit", where, "stages or most pieces are below 1", "Give 1 or more, or leave it out.");
            }
        }

        foreach (var stock in job.Stocks)
        {
            if (job.Saws.Length > 0 && job.SawFor(stock) is null)
            {
                Note(findings, "no-saw-for-stock", $"stock {stock.Id}", "no saw takes it", "It is left out of the plan.");
            }
        }
    }

    private static void Rules(Job job, List<Finding> findings)
    {
        for (var index = 0; index < job.AllowanceRules.Length; index++)
        {
            Negative(findings, $"allowance rule {index + 1}", job.AllowanceRules[index].Allowances);
        }

        for (var index = 0; index < job.OffcutRules.Length; index++)
        {
            var rule = job.OffcutRules[index];
            if (rule.Fraction is < 0m or >= 1m || rule.LeftoverFraction is < 0m or >= 1m)
            {
                Error(findings, "offcut-fraction", $"offcut rule {index + 1}", "a fraction is not from 0 to below 1",
                    "An offcut must be worth less than the stock it comes from.");
            }

            if (rule.KeepLength <= Length.Zero || rule.KeepWidth < Length.Zero)
            {
                Error(findings, "offcut-size", $"offcut rule {index + 1}", "the smallest size to keep is not above zero", "Give a size.");
            }
        }

        // A kilogram of scrap dearer than the stock itself would make buying metal to scrap it a gain.
        foreach (var stock in job.Stocks)
        {
            if (job.Materials.FirstOrDefault(one => string.Equals(one.Id, stock.MaterialId, StringComparison.OrdinalIgnoreCase)) is { } material
                && !stock.IsLeftover
                && stock.PiecePrice >= Money.Zero
                && stock.PieceMass(material).Kilograms * material.ScrapPricePerKilogram
                    > stock.Terms.LowestPrice(stock.PiecePrice).Amount)
            {
                Error(findings, "scrap-dearer-than-stock", $"stock {stock.Id}", "as scrap it is worth more than it costs",
                    "Correct its price or the material's scrap price.");
            }
        }
    }

    private static void Known(Job job, List<Finding> findings, string where, string materialId)
    {
        if (!job.Materials.Any(material => string.Equals(material.Id, materialId, StringComparison.OrdinalIgnoreCase)))
        {
            Error(findings, "unknown-material", where, $"there is no material {materialId}", "Correct the name or add the material.");
        }
    }

    private static void Negative(List<Finding> findings, string where, AllowanceOverrides? given)
    {
        if (given is not null
            && new[] { given.SideCleanUp, given.EndCleanUp, given.FaceTop, given.FaceBottom, given.Grip }.Any(one => one < Length.Zero))
        {
            Error(findings, "negative-allowance", where, "an allowance is negative", "Give zero or more.");
        }
    }

    private static void Duplicates(List<Finding> findings, string what, IEnumerable<string> names, StringComparer comparer)
    {
        foreach (var twice in names.GroupBy(name => name, comparer).Where(group => group.Count() > 1))
        {
            Error(findings, $"duplicate-{what.Replace(' ', '-')}", $"{what} {twice.Key}", $"the name is given {twice.Count()} times",
                "Give every one its own name.");
        }
    }

    private static void Error(List<Finding> findings, string rule, string where, string message, string advice) =>
        findings.Add(new(Severity.Error, rule, new SourcePosition(where), message, advice));

    private static void Note(List<Finding> findings, string rule, string where, string message, string advice) =>
        findings.Add(new(Severity.Note, rule, new SourcePosition(where), message, advice));
}
