using System.Collections.Immutable;
using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Data;
using Nest.Solve;
using Nest.Solve.Choose;

namespace Nest.Bench.Ordering;

/// <summary>`order-made`: a job by the one model against rules that choose the form first.</summary>
internal static class OrderMadeCommand
{
    public static Command Create()
    {
        var input = new Argument<string>("job") { Description = "A job file" };
        var seconds = new Option<double>("--seconds") { Description = "Limit per plan", DefaultValueFactory = _ => 20 };
        var command = new Command("order-made", "One model against forms chosen by rule") { input, seconds };
        command.SetAction(parse => Run(parse.GetRequiredValue(input), parse.GetValue(seconds)));
        return command;
    }

    private static int Run(string input, double seconds)
    {
        if (JobReader.Read(input).Value is not { } given)
        {
            Console.Error.WriteLine("The job cannot be read; nest blanks tells why.");
            return 2;
        }

        var job = given.Job;
        var blanks = BlankSizer.Size(job);
        Line("one model", blanks);
        foreach (var rule in Restrictions.Of(job, blanks))
        {
            Line(rule.Name, rule.Blanks);
        }

        return 0;

        void Line(string name, ImmutableArray<Blank> some)
        {
            var clock = Stopwatch.StartNew();
            var plan = JobSolver.Solve(job, some, new SolveLimits { Seconds = seconds, Threads = Environment.ProcessorCount });
            Console.Out.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{name,-40} {plan.TotalCost,10} bound {plan.Bound.Value,10} gap {plan.Gap * 100m,6:0.00} % orders {plan.Orders.Length} not cut {plan.Unplaced.Sum(entry => entry.Count)} in {clock.Elapsed.TotalSeconds:0.0} s"));
        }
    }
}
