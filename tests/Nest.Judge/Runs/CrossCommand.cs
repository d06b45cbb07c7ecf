using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Judge.Jobs;

namespace Nest.Judge.Runs;

/// <summary>Jobs too large to enumerate: over ten seeds and limits, the highest raw bound is at most the lowest cost.</summary>
internal static class CrossCommand
{
    private static readonly long[] Shares = [1, 2, 3, 5, 8, 10, 15, 20, 25, 30];

    public static Command Create()
    {
        var from = new Option<int>("--from") { Required = true, Description = "First seed." };
        var to = new Option<int>("--to") { Required = true, Description = "Last seed." };
        var work = new Option<long>("--work") { DefaultValueFactory = _ => 30_000, Description = "Greatest limit of work; the others are shares of it." };
        var state = new Option<string?>("--state") { Description = "Folder that keeps each contradiction." };
        var command = new Command("cross", "Plans middle-sized jobs with ten seeds and limits each.") { from, to, work, state };
        command.SetAction(parsed =>
        {
            var wrong = 0;
            for (var seed = parsed.GetValue(from); seed <= parsed.GetValue(to); seed++)
            {
                var job = MiddleJobs.Make(seed);
                var result = Of(job, parsed.GetValue(work));
                Console.WriteLine($"{job.Name}: lowest cost {result.Cost.Amount}, highest bound {result.Bound?.Amount}{(result.Holds ? "" : " CONTRADICTION")}");
                if (!result.Holds)
                {
                    wrong++;
                    if (parsed.GetValue(state) is { } folder)
                    {
                        Found.Keep(Path.Combine(folder, "found"), job.Name, job, $"cross --from {seed} --to {seed}", [$"lowest cost {result.Cost.Amount}, highest bound {result.Bound?.Amount}"]);
                    }
                }
            }

            return wrong > 0 ? 1 : 0;
        });
        return command;
    }

    /// <summary>Lowest cost and highest bound of ten runs.</summary>
    private static Crossed Of(Job job, long work)
    {
        Money? cost = null;
        Money? bound = null;
        for (var run = 0; run < Shares.Length; run++)
        {
            var (plan, raw) = Verdict.Planned(job, TinyRun.Limits(work * Shares[run] / Shares[^1], run + 1));
            if (plan.Unplaced.IsEmpty)
            {
                cost = cost is null || plan.TotalCost < cost ? plan.TotalCost : cost;
                bound = bound is null || raw > bound ? raw ?? bound : bound;
            }
        }

        return new(cost ?? Money.Zero, bound);
    }

    private readonly record struct Crossed(Money Cost, Money? Bound)
    {
        public bool Holds => Bound is not { } bound || bound <= Cost + Core.Plans.Bound.Rounding;
    }
}
