using System.CommandLine;
using System.Globalization;
using Nest.Data;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>Strikes out of known.csv what is mended; it never adds a line.</summary>
internal static class StrikeCommand
{
    public static Command Create()
    {
        var folder = new Argument<string>("folder") { Description = "The folder of the judge, where known.csv and found/ stand." };
        var command = new Command("strike", "Strikes out of known.csv what is mended.") { folder };
        command.SetAction(parsed => Run(parsed.GetRequiredValue(folder)));
        return command;
    }

    private static int Run(string folder)
    {
        var file = Path.Combine(folder, "known.csv");
        var lines = File.ReadAllLines(file);
        var left = lines.Where((line, at) => at == 0 || IsWrong(line.Split(',')[0], folder)).ToList();
        File.WriteAllLines(file, left);
        Console.WriteLine($"{lines.Length - left.Count} of {lines.Length - 1} are mended, {left.Count - 1} are left.");
        return 0;
    }

    private static bool IsWrong(string name, string folder)
    {
        var job = name.StartsWith("found/", StringComparison.Ordinal)
            ? JobReader.Read(Path.Combine(folder, name, "job.toml")).Value!.Job
            : TinyJobs.Make(int.Parse(name["tiny-".Length..], CultureInfo.InvariantCulture));
        return Verdict.Of(job, TinyRun.Limits(TinyRun.Work)).Wrong.Count > 0;
    }
}
