using System.CommandLine;
using Nest.Data;

namespace Nest.Judge.Runs;

/// <summary>Judges a job that stands in files.</summary>
internal static class FileCommand
{
    public static Command Create()
    {
        var files = new Argument<string[]>("job") { Description = "Job files." };
        var work = new Option<long>("--work") { DefaultValueFactory = _ => TinyRun.Work, Description = "Limit of work a job." };
        var command = new Command("file", "Judges jobs that stand in files.") { files, work };
        command.SetAction(parsed =>
        {
            var wrong = 0;
            foreach (var file in parsed.GetRequiredValue(files))
            {
                var read = JobReader.Read(file);
                if (read.Value is not { } given)
                {
                    Console.WriteLine($"{file}: {string.Join("; ", read.Findings.Select(finding => finding.Message))}");
                    wrong++;
                    continue;
                }

                var verdict = Verdict.Of(given.Job, TinyRun.Limits(parsed.GetValue(work)));
                wrong += verdict.Wrong.Count > 0 ? 1 : 0;
                Console.WriteLine($"{given.Job.Name}: cost {verdict.Plan?.TotalCost.Amount} optimum {verdict.Optimum?.Amount} bound {verdict.Raw?.Amount} {verdict.Plan?.Status} {string.Join("; ", verdict.Wrong)}");
            }

            return wrong > 0 ? 1 : 0;
        });
        return command;
    }
}
