using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>What a job says of its parts: sizes, quantities, forms, and those that are milled several from one blank.</summary>
internal static class JobParts
{
    public static void Check(Job job, JobFindings findings)
    {
        findings.Duplicates("part", job.Parts.Select(part => part.Id), StringComparer.Ordinal);
        foreach (var part in job.Parts)
        {
            var where = $"part {part.Id}";
            if (part.Length <= Length.Zero || part.Width <= Length.Zero || part.Thickness <= Length.Zero)
            {
                findings.Error("part-size", where, "a size is not above zero", "Give the finished size.");
            }

            if (part.Round && part.Width != part.Thickness)
            {
                findings.Error("round-part", where, "width and thickness of a round part differ", "Give its diameter.");
            }

            if (part.Quantity < 0 || part.Extra < 0 || ((long)part.Quantity * job.Batch) + part.Extra is < 1 or > 1_000_000)
            {
                findings.Error("quantity", where, $"quantity {part.Quantity} × {job.Batch} + {part.Extra} extra is not from 1 to 1000000",
                    "Correct quantity or extra, or drop the part.");
            }

            if (part.FreeSpares is < 0 or > 1_000_000 || (part.FreeSpares > 0 && part.PerBlank is not null))
            {
                findings.Error("free-spares", where, part.PerBlank is null ? $"{part.FreeSpares} free spares are not from 0 to 1000000" : "it is milled several from one blank, and free spares are laid singly",
                    "Leave the free spares out and ask for extra pieces.");
            }

            if (part.Forms == Forms.None)
            {
                findings.Error("no-form", where, "no stock form is allowed", "Allow at least one of plate, flat, square, round.");
            }

            if (JobSections.Fault(part) is { } fault)
            {
                findings.Error(fault.Rule, where, fault.Message, fault.Advice);
            }

            findings.Known(where, part.MaterialId);
            findings.Negative(where, part.Allowances);
            if (part is { PerBlank: { } several, Gang: null } && GangFault(job, part, several) is var (message, advice))
            {
                findings.Error("per-blank", where, message, advice);
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
}
