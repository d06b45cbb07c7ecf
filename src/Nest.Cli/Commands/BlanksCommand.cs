using System.CommandLine;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Models;
using Nest.Data.Tables;
using Nest.Output;
using Nest.Output.Models;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary><c>nest blanks</c>: blank sizes and the stock that serves them, without planning.</summary>
internal static class BlanksCommand
{
    /// <summary>Stocks that a line names at most.</summary>
    private const int MostNamed = 5;

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("job") { Description = ModelOptions.InputHelp };
        var all = new Option<bool>("--all") { Description = "Name every stock that serves, not only the closest of each form, and what would serve if a surface stayed or an allowance were smaller." };
        command.With(input, all);
        var tables = new TableOptions(command);
        var rules = new RuleOptions(command);
        var pictures = new Option<string?>("--pictures") { Description = "Folder for a picture of the shadow of each part that has a model, within its blank.", HelpName = "DIR" };
        command.Add(pictures);
        command.SetAction(parsed => Run(
            world, parsed.GetRequiredValue(input), parsed.GetValue(all), tables.Of(parsed), job => rules.On(job, parsed, world), parsed.GetValue(pictures)));
    }

    private static int Run(World world, string input, bool all, TableChoices tables, Func<Job, Job?> ruled, string? pictures)
    {
        if (JobLoader.Load(world, input, tables) is not { Job: var given, Models: var models } || ruled(given) is not { } job)
        {
            return ExitCode.InputRefused;
        }

        if (pictures is not null && !OutputPlace.CanWrite(world, pictures, option: "--pictures"))
        {
            return ExitCode.InputRefused;
        }

        var format = LengthFormat.For(job.Unit, job.InchFraction);
        var lines = new ModelLines(job, format);
        var short_ = 0;
        var stocks = job.Stocks.ToDictionary(stock => stock.Id);
        var blanks = Planner.Blanks(job);
        foreach (var blank in blanks)
        {
            Show(world.Out, job, stocks, blank, format, all, lines, models.GetValueOrDefault(blank.Part.Id));
            foreach (var near in all ? NearMisses.Of(job, blank) : [])
            {
                world.Out.WriteLine($"  not {near}");
            }

            short_ += blank.Fits.IsEmpty ? 1 : 0;
        }

        if (pictures is not null)
        {
            var files = ShadowPicture.Write(pictures, [.. blanks.Where(blank => models.ContainsKey(blank.Part.Id)).Select((blank, number) => lines.Picture(blank, models[blank.Part.Id], number + 1))]);
            world.Out.WriteLine($"Written to {pictures}: {files.Count} pictures, in the order above.");
        }

        return short_ == 0 ? ExitCode.Done : ExitCode.NotAllParts;
    }

    private static void Show(
        TextWriter writer, Job job, Dictionary<string, Stock> known, Blank blank, LengthFormat format, bool all, ModelLines lines, MeasuredPart? model)
    {
        var part = blank.Part;
        var finished = StockSize.Finished(part, format.Text);
        writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{part.Id}: {blank.Demand} of {part.MaterialId}, finished {finished}"));
        foreach (var line in model is null ? [] : lines.Of(part, model))
        {
            writer.WriteLine(line);
        }

        if (blank.Fits.IsEmpty)
        {
            writer.WriteLine($"  CANNOT BE CUT: {blank.Reason}");
            if (WithoutGoodFaces(job, part) is { Count: > 0 } faced)
            {
                writer.WriteLine($"  faces stay = yes changes nothing here: {string.Join(", ", faced)} not listed with good faces");
            }

            return;
        }

        var stocks = blank.Fits.Select(fit => (Fit: fit, Stock: known[fit.StockId])).ToList();
        var shown = all ? stocks : [.. stocks.GroupBy(entry => (entry.Stock.Form, entry.Stock.IsLeftover)).SelectMany(Closest)];
        foreach (var (fit, stock) in shown)
        {
            var size = stock.Form.IsBar()
                ? $"saw {format.Text(fit.SizeX)} long"
                : $"saw {format.Text(fit.SizeX, false)} × {format.Text(fit.SizeY)}{(fit.MayTurn ? "" : ", length along the rolling direction")}";
            writer.WriteLine($"  {(stock.IsLeftover ? "rack " : "")}{stock.Id}: {size}{Milled(blank, fit, stock, format)}{(model is null ? "" : lines.Cost(blank, fit, stock, model))}");
        }

        if (shown.Count < stocks.Count)
        {
            writer.WriteLine($"  … and {stocks.Count - shown.Count} more (--all names them)");
        }

        // The sizes that need the least milling, at most three.
        static IEnumerable<(BlankFit Fit, Stock Stock)> Closest(IEnumerable<(BlankFit Fit, Stock Stock)> same)
        {
            var least = same.Min(entry => entry.Fit.ExtraCost);
            return same.Where(entry => entry.Fit.ExtraCost == least).Take(3);
        }
    }

    /// <summary>What is milled away: of a plate its thickness beyond the blank, of a bar the whole section beyond the finished part.</summary>
    private static string Milled(Blank blank, BlankFit fit, Stock stock, LengthFormat format)
    {
        var words = "";
        if (blank.Part.Detail is not null)
        {
            return "";
        }

        if (stock.Form.IsBar())
        {
            var (bar, finished) = (Section(stock.Form == Form.RoundBar, stock.Width, stock.Thickness, format), Finished(blank, fit, format));
            words = bar == finished ? "" : $", section {bar} milled down to {finished}";
        }
        else if (fit.FacedAway > Length.Zero)
        {
            words = $", {format.Text(fit.FacedAway)} faced away";
        }

        return blank.Part.MillFaces && !stock.GoodFaces ? $"{words} (faced although faces stay = yes: {stock.Id} is not listed with good faces)" : words;
    }

    /// <summary>Section of the finished part as it lies in a bar.</summary>
    private static string Finished(Blank blank, BlankFit fit, LengthFormat format)
    {
        var part = blank.Part;
        if (part.Round)
        {
            return Section(true, part.Width, part.Width, format);
        }

        // Along the bar lies the length; of a part that is turned the width, sawn with its clean-up at both ends, or else the thickness.
        return !fit.Turned ? Section(false, part.Width, part.Thickness, format)
            : fit.SizeX == part.Width + (blank.Allowances.EndCleanUp * 2) ? Section(false, part.Length, part.Thickness, format)
            : Section(false, part.Length, part.Width, format);
    }

    private static string Section(bool round, Length a, Length b, LengthFormat format) => round
        ? $"Ø {format.Text(a)}"
        : $"{format.Text(Length.Max(a, b), false)} × {format.Text(Length.Min(a, b))}";

    private static List<string> WithoutGoodFaces(Job job, Part part) => !part.MillFaces
        ? []
        : [.. job.Stocks.Where(stock => string.Equals(stock.MaterialId, part.MaterialId, StringComparison.OrdinalIgnoreCase) && part.Forms.Has(stock.Form) && !stock.GoodFaces)
            .Select(stock => stock.Id).Take(MostNamed)];
}
