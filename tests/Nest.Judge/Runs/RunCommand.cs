using System.CommandLine;
using System.Diagnostics;
using Nest.Core.Plans;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Solve;

namespace Nest.Judge.Runs;

/// <summary>Judges tiny jobs by a range of seeds.</summary>
internal static class RunCommand
{
    public static Command Create()
    {
        var from = new Option<int>("--from") { Required = true, Description = "First seed." };
        var to = new Option<int>("--to") { Required = true, Description = "Last seed." };
        var work = new Option<long>("--work") { DefaultValueFactory = _ => TinyRun.Work, Description = "Limit of work a job." };
        var shows = new Option<bool>("--show") { Description = "A line for each job." };
        var command = new Command("run", "Judges tiny jobs by their seeds.") { from, to, work, shows };
        command.SetAction(parsed => Run(parsed.GetValue(from), parsed.GetValue(to), parsed.GetValue(work), parsed.GetValue(shows)));
        return command;
    }

    private static int Run(int from, int to, long work, bool shows)
    {
        var (wrong, tooLarge, plans, proven, best) = (0, 0, 0, 0, 0);
        var (enumeration, solving) = (TimeSpan.Zero, TimeSpan.Zero);
        for (var seed = from; seed <= to; seed++)
        {
            var clock = Stopwatch.StartNew();
            var job = TinyJobs.Make(seed);
            try
            {
                Optimum.Of(job);
                enumeration += clock.Elapsed;
                clock.Restart();
                var verdict = Verdict.Of(job, TinyRun.Limits(work));
                solving += clock.Elapsed;
                plans += verdict.Plan is { Layouts.IsEmpty: false } ? 1 : 0;
                proven += verdict.Plan is { Layouts.IsEmpty: false, Status: SolveStatus.Proven } ? 1 : 0;
                best += verdict.IsBest ? 1 : 0;
                wrong += verdict.Wrong.Count > 0 ? 1 : 0;
                if (shows || verdict.Wrong.Count > 0)
                {
                    Console.WriteLine($"{seed} {TinyJobs.ClassOf(seed)} cost {verdict.Plan?.TotalCost.Amount} optimum {verdict.Optimum?.Amount} bound {verdict.Raw?.Amount} {verdict.Plan?.Status} {clock.ElapsedMilliseconds} ms {string.Join("; ", verdict.Wrong)}");
                }
            }
            catch (TooLargeException fault)
            {
                tooLarge++;
                Console.WriteLine($"{seed} {TinyJobs.ClassOf(seed)} too large: {fault.Message}");
            }
        }

        Console.WriteLine($"{to - from + 1} jobs: {plans} plans, {proven} proven, {best} cheapest, {tooLarge} too large, {wrong} wrong; enumeration {enumeration.TotalSeconds:0.0} s, with planning {solving.TotalSeconds:0.0} s");
        return wrong > 0 ? 1 : 0;
    }
}
