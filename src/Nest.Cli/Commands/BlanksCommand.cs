using System.CommandLine;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Check;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Cli.Commands;

/// <summary><c>nest blanks</c>: blank sizes and the stock that serves them, without planning.</summary>
internal static class BlanksCommand
{
    public static Command Create(World world)
    {
        var input = new Argument<string>("job") { Description = "A job file (.toml), or a bare parts list (.csv)." };
        var all = new Option<bool>("--all") { Description = "Name every stock that serves, not only the closest of each form." };
        var command = new Command("blanks", "Show the blank of every part and the stock that serves it.") { input, all };
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(input), parsed.GetValue(all)));
        return command;
    }

    private static int Run(World world, string input, bool all)
    {
        var read = JobReader.Read(input);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { Job: var job } given)
        {
            return ExitCode.InputRefused;
        }

        var findings = JobChecker.Check(job);
        Screen.Report(world.Error, findings);
        if (findings.HasErrors())
        {
            return ExitCode.InputRefused;
        }

        var format = LengthFormat.For(job.Unit, job.InchFraction);
        var short_ = 0;
        foreach (var blank in BlankSizer.Size(job))
        {
            Show(world.Out, job, blank, format, all);
            short_ += blank.Fits.IsEmpty ? 1 : 0;
        }

        return short_ == 0 ? ExitCode.Done : ExitCode.NotAllParts;
    }

    private static void Show(TextWriter writer, Job job, Blank blank, LengthFormat format, bool all)
    {
        var part = blank.Part;
        var finished = part.Round
            ? $"dia {format.Text(part.Width)} x {format.Text(part.Length)}"
            : $"{format.Text(part.Length)} x {format.Text(part.Width)} x {format.Text(part.Thickness)}";
        writer.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{part.Id}: {blank.Demand} of {part.MaterialId}, finished {finished} {format.UnitName}"));
        if (blank.Fits.IsEmpty)
        {
            writer.WriteLine($"  CANNOT BE CUT: {blank.Reason}");
            return;
        }

        var stocks = blank.Fits.Select(fit => (Fit: fit, Stock: job.Stocks.First(stock => stock.Id == fit.StockId))).ToList();
        var shown = all ? stocks : [.. stocks.GroupBy(entry => (entry.Stock.Form, entry.Stock.IsLeftover)).SelectMany(Closest)];
        foreach (var (fit, stock) in shown)
        {
            var size = stock.Form.IsBar()
                ? $"saw {format.Text(fit.SizeX)} long"
                : $"saw {format.Text(fit.SizeX)} x {format.Text(fit.SizeY)}{(fit.MayTurn ? "" : ", length along the rolling direction")}";
            var facing = fit.FacedAway > Length.Zero ? $", {format.Text(fit.FacedAway)} faced away" : "";
            writer.WriteLine($"  {(stock.IsLeftover ? "rack " : "")}{stock.Id}: {size}{facing}");
        }

        if (shown.Count < stocks.Count)
        {
            writer.WriteLine($"  … and {stocks.Count - shown.Count} more (--all names them)");
        }

        // The sizes that need the least facing, at most three.
        static IEnumerable<(BlankFit Fit, Stock Stock)> Closest(IEnumerable<(BlankFit Fit, Stock Stock)> same)
        {
            var least = same.Min(entry => entry.Fit.FacedAway);
            return same.Where(entry => entry.Fit.FacedAway == least).Take(3);
        }
    }
}
