using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The job that the plan carries says nothing that no shop could mean. What is out of range here may not be reckoned with.</summary>
internal static class RulesJob
{
    // The densest element, osmium, has 22 590 kg/m³ (CRC Handbook of Chemistry and Physics).
    private const decimal DensestMetal = 25_000m;
    private const decimal LargestRate = 10_000_000m;
    private const decimal LargestPercent = 1_000m;
    private const decimal LargestExchange = 1_000_000m;
    private const int LongestLead = 10_000;

    /// <summary>All names are there once, all rates, amounts and sizes are in a range that a shop may have.</summary>
    public static void Sound(PlanFacts facts)
    {
        var job = facts.Job;
        General(facts, job);
        foreach (var material in job.Materials)
        {
            Require(facts, material.Density is > 0m and <= DensestMetal, $"material {material.Id}", "the density is out of range");
            Require(facts, IsRate(material.ScrapPricePerKilogram), $"material {material.Id}", "the scrap price is out of range");
        }

        foreach (var part in job.Parts)
        {
            Spares(facts, part);
            Require(facts, Fine(part.Allowances), $"part {part.Id}", "an allowance is out of range");
            Require(facts, ExpectedSections.IsSound(part), $"part {part.Id}", "the section that it asks for is none, or more than one");
        }

        foreach (var stock in job.Stocks)
        {
            Require(facts, ExpectedSections.IsSound(stock), $"stock {stock.Id}", "its section is not one of its form");
        }

        foreach (var saw in job.Saws)
        {
            OneSaw(facts, saw);
        }

        foreach (var supplier in job.Suppliers)
        {
            OneSupplier(facts, supplier);
        }

        Rules(facts, job);
        Shared(facts, job);
    }

    /// <summary>Of several jobs each part belongs to one, and each job has a part; sets are counted in the quantities.</summary>
    private static void Shared(PlanFacts facts, Job job)
    {
        if (job.Together.IsEmpty)
        {
            return;
        }

        Require(facts, job.Batch == 1, "job", "several jobs are planned as one, but not as one set");
        Once(facts, "job", job.Together.Select(one => one.Name), StringComparer.Ordinal);
        foreach (var one in job.Together)
        {
            var own = job.Parts.Where(part => part.Id.StartsWith(one.Name + "/", StringComparison.Ordinal)).ToList();
            Require(facts, one.Name.Length > 0 && !one.Name.Contains('/', StringComparison.Ordinal), $"job {one.Name}", "its name cannot stand in front of its parts");
            Require(facts, own.Count > 0, $"job {one.Name}", "no part belongs to it");
            Require(facts, one.Sets >= 1 && own.TrueForAll(part => part.Quantity % Math.Max(1, one.Sets) == 0), $"job {one.Name}", "its quantities are not those of whole sets");
        }

        var names = job.Together.Select(one => one.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var part in job.Parts.Where(part => part.Id.IndexOf('/', StringComparison.Ordinal) is var at && (at < 0 || !names.Contains(part.Id[..at]))))
        {
            Require(facts, false, $"part {part.Id}", "it belongs to none of the jobs");
        }
    }

    private static void General(PlanFacts facts, Job job)
    {
        Require(facts, job.Batch is >= 1 and <= 1_000_000, "job", "the number of sets is out of range");
        Require(facts, job.MostSuppliers is null or >= 1, "job", "the most suppliers are below 1");
        Require(facts, job.WantedInDays is null or >= 0, "job", "it is wanted before today");
        Require(facts, job.LiftLimit.Kilograms > 0m && Fine(job.LongBar), "job", "the limit for lifting or for long bars is out of range");
        Require(
            facts,
            IsRate(job.Mill.HourlyRate) && job.Mill.DefaultRemovalRate > 0m && job.Mill.RemovalRates.All(rate => rate.CubicCentimetresPerMinute > 0m),
            "mill", "a rate is out of range");
        Require(
            facts,
            IsRate(job.Fuss.HourlyRate) && IsRate(job.Fuss.OrderLineMinutes) && IsRate(job.Fuss.SupplierMinutes) && IsRate(job.Fuss.FurtherSizeMinutes),
            "fuss", "a rate or time is out of range");
        Once(facts, "material", job.Materials.Select(material => material.Id), StringComparer.OrdinalIgnoreCase);
        Once(facts, "part", job.Parts.Select(part => part.Id), StringComparer.Ordinal);
        Once(facts, "stock", job.Stocks.Select(stock => stock.Id), StringComparer.Ordinal);
        Once(facts, "saw", job.Saws.Select(saw => saw.Id), StringComparer.Ordinal);
        Once(facts, "supplier", job.Suppliers.Select(supplier => supplier.Name), StringComparer.OrdinalIgnoreCase);
    }

    /// <summary>Spares given as a percentage are that share of the batch, rounded up.</summary>
    private static void Spares(PlanFacts facts, Part part)
    {
        Require(facts, part.Quantity >= 0 && part.Extra >= 0, $"part {part.Id}", "quantity or spares are below zero");
        if (part.ExtraPercent is not { } percent)
        {
            return;
        }

        if (percent is < 0m or > LargestPercent)
        {
            facts.Add("job-value", $"part {part.Id}", $"{percent} percent of spares are out of range");
            return;
        }

        var asked = (decimal)part.Quantity * facts.Job.Batch * percent;
        var right = (long)(asked / 100m) + (asked % 100m > 0m ? 1 : 0);
        if (part.Extra != right)
        {
            facts.Add("spares", $"part {part.Id}", $"{part.Extra} spares are given, {percent} percent are {right}");
        }
    }

    private static void OneSaw(PlanFacts facts, Saw saw)
    {
        var where = $"saw {saw.Id}";
        Require(facts, saw.DefaultCutRate > 0m && saw.CutRates.All(rate => rate.SquareCentimetresPerMinute > 0m), where, "a cut rate is not above zero");
        Require(
            facts, IsRate(saw.HourlyRate) && IsRate(saw.ChargePerCut) && IsRate(saw.HandlingMinutes) && IsRate(saw.SettingMinutes)
                && IsRate(saw.LoadMinutes), where,
            "a rate, charge or time is out of range");
        Require(
            facts, Fine(saw.StackHeight) && Fine(saw.LargestCut ?? Length.Zero) && Fine(saw.LargestThickness ?? Length.Zero)
                && Fine(saw.LongestStock ?? Length.Zero), where,
            "a limit of its size is out of range");
        Require(facts, saw.MostPieces is null or >= 1 && saw.Stages is null or >= 1, where, "most pieces or stages are below 1");
    }

    private static void OneSupplier(PlanFacts facts, Supplier supplier)
    {
        var where = $"supplier {supplier.Name}";
        Require(
            facts,
            supplier.MinimumOrder >= Money.Zero && supplier.Delivery >= Money.Zero && supplier.CutPieceCharge >= Money.Zero
                && (supplier.FreeDeliveryFrom ?? Money.Zero) >= Money.Zero,
            where, "an amount is below zero");
        Require(facts, supplier.LeadDays is >= 0 and <= LongestLead, where, "the days to delivery are out of range");
        Require(facts, supplier.Rate is null or (> 0m and <= LargestExchange), where, "the exchange rate is out of range");
        Require(facts, supplier.Rate is null == supplier.Currency is null, where, "currency and exchange rate belong together");
        Require(facts, Fine(supplier.CutPlus ?? Length.Zero), where, "the tolerance of pieces cut to size is out of range");
    }

    private static void Rules(PlanFacts facts, Job job)
    {
        for (var index = 0; index < job.AllowanceRules.Length; index++)
        {
            Require(facts, Fine(job.AllowanceRules[index].Allowances), $"allowance rule {index + 1}", "an allowance is out of range");
        }

        for (var index = 0; index < job.OffcutRules.Length; index++)
        {
            var rule = job.OffcutRules[index];
            Require(
                facts,
                rule.Fraction is >= 0m and < 1m && rule.LeftoverFraction is >= 0m and < 1m && Fine(rule.KeepLength) && Fine(rule.KeepWidth),
                $"offcut rule {index + 1}", "a fraction or size is out of range");
        }
    }

    private static void Once(PlanFacts facts, string what, IEnumerable<string> names, StringComparer comparer)
    {
        var seen = new HashSet<string>(comparer);
        foreach (var name in names)
        {
            Require(facts, seen.Add(name), $"{what} {name}", "the name is there twice");
        }
    }

    private static void Require(PlanFacts facts, bool holds, string where, string message)
    {
        if (!holds)
        {
            facts.Add("job-value", where, message);
        }
    }

    private static bool IsRate(decimal rate) => rate is >= 0m and <= LargestRate;

    private static bool Fine(AllowanceOverrides? given) => given is null || (
        Fine(given.SideCleanUp ?? Length.Zero) && Fine(given.EndCleanUp ?? Length.Zero) && Fine(given.FaceTop ?? Length.Zero)
        && Fine(given.FaceBottom ?? Length.Zero) && Fine(given.Grip ?? Length.Zero));

    private static bool Fine(Length length) => length >= Length.Zero && length.Nanometres <= RulesRange.LargestLength;
}
