using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Bench.Bars;

/// <summary>`bars`: runs published bar instances and prints one row each and a RESULT line.</summary>
internal static class BarsCommand
{
    public static Command Create()
    {
        var data = new Option<string>("--data") { Description = "Folder of instance files, or one file", Required = true };
        var seconds = new Option<double>("--seconds") { Description = "Limit per instance", DefaultValueFactory = _ => 60 };
        var limit = new Option<int>("--limit") { Description = "Run only the first N instances", DefaultValueFactory = _ => int.MaxValue };
        var every = new Option<int>("--every") { Description = "Run every N-th instance", DefaultValueFactory = _ => 1 };
        var jobs = new Option<int>("--jobs") { Description = "Instances at a time", DefaultValueFactory = _ => 1 };
        var threads = new Option<int>("--threads") { Description = "Threads per instance", DefaultValueFactory = _ => 1 };
        var seed = new Option<int>("--seed") { Description = "Seed", DefaultValueFactory = _ => 1 };
        var only = new Option<string>("--only") { Description = "Only instances whose name contains this", DefaultValueFactory = _ => string.Empty };
        var command = new Command("bars", "Published bar instances (see the data folder's README for the format)")
        {
            data, seconds, limit, every, jobs, threads, seed, only,
        };
        command.SetAction(parse =>
        {
            string path = parse.GetValue(data)!;
            var limits = new SolveLimits
            {
                Seconds = parse.GetValue(seconds),
                Threads = parse.GetValue(threads),
                Seed = parse.GetValue(seed),
            };
            int step = Math.Max(1, parse.GetValue(every));
            string part = parse.GetValue(only)!;
            IReadOnlyList<BarInstance> instances = [.. BarInstance.Read(path)
                .Where((i, k) => k % step == 0 && i.Name.Contains(part, StringComparison.Ordinal))
                .Take(parse.GetValue(limit))];
            BarsTable.Run(Path.GetFileNameWithoutExtension(path.TrimEnd('/')), instances, limits, parse.GetValue(jobs), Console.Out);
            return 0;
        });
        return command;
    }
}
