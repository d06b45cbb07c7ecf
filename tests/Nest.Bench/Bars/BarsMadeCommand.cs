using System.CommandLine;
using Nest.Solve;

namespace Nest.Bench.Bars;

/// <summary>`bars-made`: jobs of a shop's and a fabricator's size, made from seeds.</summary>
internal static class BarsMadeCommand
{
    public static Command Create()
    {
        var kind = new Option<string>("--kind") { Description = "shop or fabricator", DefaultValueFactory = _ => "shop" };
        kind.AcceptOnlyFromAmong("shop", "fabricator");
        var seconds = new Option<double>("--seconds") { Description = "Limit per job", DefaultValueFactory = _ => 20 };
        var limit = new Option<int>("--limit") { Description = "Number of jobs (seeds 1 to N)", DefaultValueFactory = _ => 5 };
        var first = new Option<int>("--first") { Description = "First seed", DefaultValueFactory = _ => 1 };
        var command = new Command("bars-made", "Bar jobs made from seeds") { kind, seconds, limit, first };
        command.SetAction(parse =>
        {
            string name = parse.GetValue(kind)!;
            var jobs = Enumerable.Range(parse.GetValue(first), parse.GetValue(limit))
                .Select(seed => new BarInstance(
                    name, $"{name}_{seed}", name == "shop" ? MadeJobs.Shop(seed) : MadeJobs.Fabricator(seed), 0, long.MaxValue))
                .ToList();
            BarsTable.Run($"made_{name}", jobs, new SolveLimits { Seconds = parse.GetValue(seconds) }, 1, Console.Out);
            return 0;
        });
        return command;
    }
}
