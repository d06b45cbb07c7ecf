using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>What a job says of its saws, and stock that none of them takes.</summary>
internal static class JobSaws
{
    public static void Check(Job job, JobFindings findings)
    {
        findings.Duplicates("saw", job.Saws.Select(saw => saw.Id), StringComparer.Ordinal);
        foreach (var saw in job.Saws)
        {
            var where = $"saw {saw.Id}";
            if (saw.Kerf <= Length.Zero)
            {
                findings.Error("no-kerf", where, "it has no kerf", "Give the width of the cut, of a cutter the gap between parts.");
            }

            var trims = saw.Trims;
            if (trims.Left < Length.Zero || trims.Right < Length.Zero || trims.Bottom < Length.Zero || trims.Top < Length.Zero
                || saw.ShortestHeld < Length.Zero || saw.StackHeight < Length.Zero)
            {
                findings.Error("negative-size", where, "a trim, the shortest held piece or the stack height is negative", "Give zero or more.");
            }

            if (saw.LargestCut <= Length.Zero || saw.LargestThickness <= Length.Zero || saw.LongestStock <= Length.Zero)
            {
                findings.Error("saw-limit", where, "its largest cut, largest thickness or longest stock is not above zero", "Give a size, or leave it out.");
            }

            if (saw.DefaultCutRate <= 0m || saw.CutRates.Any(rate => rate.SquareCentimetresPerMinute <= 0m))
            {
                findings.Error("cut-rate", where, "a cut rate is not above zero", "Give square centimetres per minute.");
            }

            if (saw.HourlyRate < 0m || saw.ChargePerCut < 0m || saw.HandlingMinutes < 0m || saw.SettingMinutes < 0m || saw.LoadMinutes < 0m)
            {
                findings.Error("negative-rate", where, "a rate, charge or time is negative", "Give zero or more.");
            }

            if (saw is { MostPieces: not null, Kind: not SawKind.BarSaw })
            {
                findings.Error("most-pieces-on-plate", where, "it limits the pieces of a bar, but cuts plates", "Leave most pieces out.");
            }

            if (saw.Stages < 1 || saw.MostPieces < 1)
            {
                findings.Error("saw-limit", where, "stages or most pieces are below 1", "Give 1 or more, or leave it out.");
            }
        }

        foreach (var stock in job.Stocks.Where(stock => IsIdle(stock) && !Misses.IsTooLong(job, stock)))
        {
            findings.Note("no-saw-for-stock", $"stock {stock.Id}", "no saw takes it", "It is left out of the plan.");
        }

        // A catalogue may be full of bars of 6 m: told once.
        if (job.Stocks.Where(stock => IsIdle(stock) && Misses.IsTooLong(job, stock)).ToList() is { Count: > 0 } idle)
        {
            var (who, remedy) = idle.Count == 1 ? ("it is", "It is left out of the plan.") : ($"it and {idle.Count - 1} more of the stock are", "They are left out of the plan.");
            findings.Note("no-saw-for-stock", $"stock {idle[0].Id}", $"{who} longer than the saw's longest stock", remedy);
        }

        bool IsIdle(Stock stock) => job.Saws.Length > 0 && job.SawFor(stock) is null;
    }
}
