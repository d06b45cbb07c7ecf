using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Plans;

/// <summary>What the readers of input files guarantee about a job, checked again on a job that comes from a plan file: names are
/// unique and lead somewhere, sizes and rates are above zero, numbers stay in the range that sums and products were made for.</summary>
internal static class JobLimits
{
    public const int MostPieces = 1_000_000;

    public static void Check(Job job, Action<string, string> error)
    {
        Unique(job.Materials.Select(material => material.Id), "job.materials", error);
        Unique(job.Parts.Select(part => part.Id), "job.parts", error);
        Unique(job.Stocks.Select(stock => stock.Id), "job.stocks", error);
        Unique(job.Saws.Select(saw => saw.Id), "job.saws", error);
        var materials = job.Materials.Select(material => material.Id).ToHashSet(StringComparer.OrdinalIgnoreCase);
        Require(job.Batch is > 0 and <= 100_000, "job.batch");
        Require(job.InchFraction is 0 or 2 or 4 or 8 or 16 or 32 or 64, "job.inchFraction");
        Require(job.LongBar > Length.Zero && job.LiftLimit.Kilograms is > 0m and < 1_000_000m, "job.longBar or job.liftLimit");
        Require(job.Mill.DefaultRemovalRate > 0m && job.Mill.RemovalRates.All(rate => rate.CubicCentimetresPerMinute > 0m), "job.mill");
        Require(IsAmount(job.Mill.HourlyRate) && IsAmount(job.Mill.BlankMinutes), "job.mill.hourlyRate or blankMinutes");
        Require(new[] { job.Mill.ViseOpening, job.Mill.TravelX, job.Mill.TravelY }.All(size => size is not { } length || IsSize(length)), "job.mill's sizes");
        Require(
            IsAmount(job.Fuss.HourlyRate) && IsAmount(job.Fuss.OrderLineMinutes) && IsAmount(job.Fuss.SupplierMinutes) && IsAmount(job.Fuss.FurtherSizeMinutes),
            "job.fuss");
        Require(job.FreeSparesUpTo is not { } most || IsAmount(most.Amount), "job.freeSparesUpTo");
        Require(job.UseFirst?.OlderThanDays is null or >= 0, "job.useFirst");
        for (var i = 0; i < job.Materials.Length; i++)
        {
            var material = job.Materials[i];
            Require(material.Density is > 0m and <= 25_000m && IsAmount(material.ScrapPricePerKilogram), $"job.materials[{i}]");
        }

        for (var i = 0; i < job.Parts.Length; i++)
        {
            var part = job.Parts[i];
            Require(materials.Contains(part.MaterialId), $"job.parts[{i}].materialId");
            Require(IsSize(part.Length) && IsSize(part.Width) && IsSize(part.Thickness), $"job.parts[{i}]'s size");
            Require(JobSections.Fault(part) is null, $"job.parts[{i}]'s section");
            Require(part.PerBlank is not { } several || (several.Gap >= Length.Zero && several.Gap <= Csv.CsvRow.LongestSize && several.Counts.All(count => count is > 0 and <= MostPieces)), $"job.parts[{i}].perBlank");
            Require(
                part.Gang is not { } gang || (gang.Rows is > 0 and <= 1000 && gang.Columns is > 0 and <= 1000 && gang.Blanks is > 0 and <= MostPieces && gang.Members.Length is 1 or 2
                    && gang.Members.All(member => member.Count is > 0 and <= MostPieces && member.Asked is > 0 and <= MostPieces) && IsSize(part.AsBlock().Length) && IsSize(part.AsBlock().Width)),
                $"job.parts[{i}].gang");
            Require(part.Ends is not { } ends || (ends.Cuts > 0 && ends.ShortEdge(part) > Length.Zero), $"job.parts[{i}].ends");
            Require(
                part.Quantity > 0 && part.Extra is >= 0 and <= MostPieces && part.FreeSpares is >= 0 and <= MostPieces && (long)part.Quantity * job.Batch <= MostPieces,
                $"job.parts[{i}].quantity or extra");
        }

        for (var i = 0; i < job.Stocks.Length; i++)
        {
            var stock = job.Stocks[i];
            Require(materials.Contains(stock.MaterialId), $"job.stocks[{i}].materialId");
            Require(
                IsSize(stock.Length) && IsSize(stock.Width) && IsSize(stock.Thickness)
                && IsMin(stock.MinLength, stock.Length) && IsMin(stock.MinWidth, stock.Width) && IsMin(stock.MinThickness, stock.Thickness),
                $"job.stocks[{i}]'s size");
            Require(JobSections.Fault(stock) is null, $"job.stocks[{i}]'s section");
            Require(stock.PiecePrice >= Money.Zero && IsAmount(stock.PiecePrice.Amount), $"job.stocks[{i}].piecePrice");
            Require(stock.CutFor is null || job.Parts.Any(part => part.Id == stock.CutFor), $"job.stocks[{i}].cutFor");
            Require(
                stock.Terms.LineMinimum >= Money.Zero && IsAmount(stock.Terms.LineMinimum.Amount)
                && stock.Terms.Breaks.All(step => step.From >= 2 && step.PiecePrice >= Money.Zero && IsAmount(step.PiecePrice.Amount)),
                $"job.stocks[{i}].terms");
            Require(stock.Available is null or (>= 0 and <= MostPieces), $"job.stocks[{i}].available");
        }

        for (var i = 0; i < job.Saws.Length; i++)
        {
            var saw = job.Saws[i];
            Require(saw.Kerf >= Length.Zero && saw.Kerf <= Csv.CsvRow.LongestSize, $"job.saws[{i}].kerf");
            Require(saw.DefaultCutRate > 0m && saw.CutRates.All(rate => rate.SquareCentimetresPerMinute > 0m), $"job.saws[{i}]'s cut rates");
            Require(
                IsAmount(saw.HourlyRate) && IsAmount(saw.ChargePerCut) && IsAmount(saw.HandlingMinutes) && IsAmount(saw.SettingMinutes)
                && IsAmount(saw.LoadMinutes),
                $"job.saws[{i}]'s rates");
            Require(saw.LongestStock is not { } longest || IsSize(longest), $"job.saws[{i}].longestStock");
        }

        Require(
            job.Suppliers.All(supplier => IsCharge(supplier.MinimumOrder) && IsCharge(supplier.Delivery) && IsCharge(supplier.CutPieceCharge)),
            "job.suppliers");
        Require(
            job.OffcutRules.All(rule => rule.Fraction is >= 0m and < 1m && rule.LeftoverFraction is >= 0m and < 1m), "job.offcutRules");

        void Require(bool holds, string what)
        {
            if (!holds)
            {
                error(what, "is out of range");
            }
        }
    }

    private static bool IsSize(Length length) => length > Length.Zero && length <= Csv.CsvRow.LongestSize;

    private static bool IsMin(Length smallest, Length nominal) => smallest > Length.Zero && smallest <= nominal;

    private static bool IsAmount(decimal amount) => amount is >= 0m and <= 10_000_000m;

    private static bool IsCharge(Money charge) => charge >= Money.Zero && IsAmount(charge.Amount);

    private static void Unique(IEnumerable<string> names, string what, Action<string, string> error)
    {
        var seen = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var name in names.Where(name => !seen.Add(name)))
        {
            error(what, $"has '{name}' twice");
        }
    }
}
