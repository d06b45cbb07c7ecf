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
        var findings = new JobFindings(job);
        General(job, findings);
        Materials(job, findings);
        JobParts.Check(job, findings);
        JobStocks.Check(job, findings);
        JobSaws.Check(job, findings);
        Rules(job, findings);
        if (!findings.HasError)
        {
            Fits(job, findings);
        }

        return findings.All;
    }

    private static void Fits(Job job, JobFindings findings)
    {
        foreach (var blank in BlankSizer.Size(job))
        {
            var part = blank.Part;
            if (blank.Fits.IsEmpty)
            {
                findings.Note("nothing-fits", $"part {part.Id}", "no stock of the job serves it",
                    "Allow other forms, add stock, or reduce its allowances; the rest is planned without it.");
            }

            if (part.Ends is { Cuts: > 0 } && !SawnEnds.AsSawn(part, blank.Allowances))
            {
                findings.Note("angle-not-sawn", $"part {part.Id}", "its ends are machined after sawing, so they are sawn square",
                    "Give an end clean-up of 0 (and no grip in a chuck) if the saw is to make the angles.");
            }
        }
    }

    private static void General(Job job, JobFindings findings)
    {
        if (job.Batch < 1)
        {
            findings.Error("batch", "job", $"{job.Batch} sets cannot be made", "Give a batch of 1 or more.");
        }

        if (job.Parts.Length == 0)
        {
            findings.Error("no-parts", "job", "there are no parts", "List at least one part.");
        }

        if (job.Saws.Length == 0)
        {
            findings.Error("no-saw", "job", "there is no saw", "Describe at least one saw.");
        }

        if (job.Mill.DefaultRemovalRate <= 0m || job.Mill.RemovalRates.Any(rate => rate.CubicCentimetresPerMinute <= 0m))
        {
            findings.Error("mill-rate", "mill", "a removal rate is not above zero", "Give cubic centimetres per minute.");
        }

        if (job.MostSuppliers < 1)
        {
            findings.Error("suppliers", "job", "it may be bought from no supplier", "Allow at least one, or leave it out.");
        }

        foreach (var supplier in job.Suppliers)
        {
            if (supplier.MinimumOrder < Money.Zero || supplier.Delivery < Money.Zero || supplier.FreeDeliveryFrom < Money.Zero
                || supplier.CutPieceCharge < Money.Zero)
            {
                findings.Error("negative-price", $"supplier {supplier.Name}", "an amount is negative", "Give zero or more.");
            }
        }

        if (job.Mill.HourlyRate < 0m)
        {
            findings.Error("negative-rate", "mill", "the hourly rate is negative", "Give zero or more.");
        }
    }

    private static void Materials(Job job, JobFindings findings)
    {
        findings.Duplicates("material", job.Materials.Select(material => material.Id), StringComparer.OrdinalIgnoreCase);
        foreach (var material in job.Materials)
        {
            if (material.Density <= 0m)
            {
                findings.Error("density", $"material {material.Id}", "the density is not above zero", "Give it in kg/m³.");
            }

            if (material.ScrapPricePerKilogram < 0m)
            {
                findings.Error("negative-price", $"material {material.Id}", "the scrap price is negative", "Give zero or more.");
            }
        }
    }

    private static void Rules(Job job, JobFindings findings)
    {
        for (var index = 0; index < job.AllowanceRules.Length; index++)
        {
            findings.Negative($"allowance rule {index + 1}", job.AllowanceRules[index].Allowances);
        }

        for (var index = 0; index < job.OffcutRules.Length; index++)
        {
            var rule = job.OffcutRules[index];
            if (rule.Fraction is < 0m or >= 1m || rule.LeftoverFraction is < 0m or >= 1m)
            {
                findings.Error("offcut-fraction", $"offcut rule {index + 1}", "a fraction is not from 0 to below 1",
                    "An offcut must be worth less than the stock it comes from.");
            }

            if (rule.KeepLength <= Length.Zero || rule.KeepWidth < Length.Zero)
            {
                findings.Error("offcut-size", $"offcut rule {index + 1}", "the smallest size to keep is not above zero", "Give a size.");
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
                findings.Error("scrap-dearer-than-stock", $"stock {stock.Id}", "as scrap it is worth more than it costs",
                    "Correct its price or the material's scrap price.");
            }
        }
    }
}
