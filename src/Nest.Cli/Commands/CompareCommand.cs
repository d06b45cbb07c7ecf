using System.CommandLine;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Check;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;

namespace Nest.Cli.Commands;

/// <summary><c>nest compare</c>: two or more settings side by side.</summary>
internal static class CompareCommand
{
    /// <summary>What is compared: a name and a plan.</summary>
    private sealed record Variant(string Name, Plan Plan);

    public static Command Create(World world)
    {
        var inputs = new Argument<string[]>("jobs") { Description = "Job files, or one and changes to it.", Arity = ArgumentArity.OneOrMore };
        var set = new Option<string[]>("--set") { Description = "A change to the first job, as kerf=1.1; each makes one more column. " + Settings.Known, HelpName = "KEY=VALUE", DefaultValueFactory = _ => [] };
        var seconds = new Option<double?>("--seconds", "-s") { Description = "Time for each plan. Default: the job's, else 10.", HelpName = "N" };
        var work = new Option<long?>("--work") { Description = "Limit in steps of work for each plan instead of time.", HelpName = "N" };
        var command = new Command("compare", "What another saw, supplier, kerf or size would change, and whether the difference is more than the proven gap.") { inputs, set, seconds, work };
        command.Validators.Add(result =>
        {
            if (result.GetValue(seconds) is { } time && (double.IsNaN(time) || time <= 0 || time > 86_400))
            {
                result.AddError("--seconds wants a number above 0 and at most 86400.");
            }

            if (result.GetValue(work) <= 0)
            {
                result.AddError("--work wants a whole number above 0.");
            }

            if ((result.GetValue(inputs) ?? []).Length + (result.GetValue(set) ?? []).Length < 2)
            {
                result.AddError("Name two jobs, or one and at least one --set KEY=VALUE.");
            }
        });
        command.SetAction(parsed => Run(
            world, parsed.GetRequiredValue(inputs), parsed.GetValue(set) ?? [], parsed.GetValue(seconds), parsed.GetValue(work)));
        return command;
    }

    private static int Run(World world, string[] inputs, string[] settings, double? seconds, long? work)
    {
        var jobs = new List<(string Name, Job Job, double Seconds, int Seed)>();
        var fine = true;
        foreach (var input in inputs)
        {
            if (JobLoader.Load(world, input) is not { } given)
            {
                fine = false;
                continue;
            }

            jobs.Add((given.Job.Name, given.Job, given.Seconds ?? 10, given.Seed ?? 1));
            foreach (var setting in jobs.Count == 1 ? settings : [])
            {
                var changed = Settings.Apply(given.Job, setting, out var problem);
                var findings = changed is null ? [] : JobChecker.Check(changed);
                Screen.Report(world.Error, [.. findings.Where(finding => finding.Severity == Severity.Error)]);
                fine &= changed is not null && !findings.HasErrors();
                if (changed is null)
                {
                    world.Error.WriteLine($"error: --set {setting}: {problem}");
                }
                else
                {
                    jobs.Add((setting, changed, given.Seconds ?? 10, given.Seed ?? 1));
                }
            }
        }

        foreach (var (name, job, _, _) in jobs.Skip(1).Where(one => one.Job.Currency != jobs[0].Job.Currency))
        {
            world.Error.WriteLine($"error: '{name}' is in {job.Currency}, '{jobs[0].Name}' in {jobs[0].Job.Currency}: amounts cannot be compared");
            fine = false;
        }

        if (!fine)
        {
            return ExitCode.InputRefused;
        }

        var variants = new List<Variant>();
        foreach (var (name, job, own, seed) in jobs)
        {
            var blanks = BlankSizer.Size(job);
            var limits = new SolveLimits { Seconds = work is null ? seconds ?? own : 3600, Work = work, Seed = seed, Threads = Environment.ProcessorCount };
            var plan = JobSolver.Solve(job, blanks, limits, null, world.Cancel);
            plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
            var refused = PlanChecker.Check(plan);
            if (refused.HasErrors())
            {
                Screen.Report(world.Error, refused);
                world.Error.WriteLine($"The checker refused the plan of '{name}'. This is a fault of Nest; please report it.");
                return ExitCode.CheckerRefused;
            }

            variants.Add(new(name, plan));
        }

        Show(world.Out, variants);
        return variants.All(variant => variant.Plan.Unplaced.IsEmpty) ? ExitCode.Done : ExitCode.NotAllParts;
    }

    private static void Show(TextWriter writer, List<Variant> variants)
    {
        var currency = variants[0].Plan.Job.Currency;
        (string Label, Func<Plan, decimal> Of, int Decimals)[] rows =
        [
            ($"cost, {currency}", plan => plan.TotalCost.Amount, 2),
            ("  nothing is cheaper than", plan => plan.LowerBound.Amount, 2),
            ("  gap, %", plan => plan.Gap * 100m, 2),
            ($"orders with delivery, {currency}", plan => plan.Orders.Sum(order => order.Total.Amount), 2),
            ("suppliers", plan => plan.Orders.Length, 0),
            ("stock pieces", plan => plan.Layouts.Sum(layout => layout.Count), 0),
            ("  from the rack", plan => CostSheet.BuyLines(plan).Where(line => line.FromRack).Sum(line => line.Count), 0),
            ("metal taken, kg", plan => MassBalance.Of(plan).Taken.Kilograms, 2),
            ("yield (blanks of metal), %", plan => MassBalance.Of(plan) is { } mass && mass.Taken.Kilograms > 0 ? mass.Blanks.Kilograms / mass.Taken.Kilograms * 100m : 0m, 2),
            ("cuts", plan => CutSequencer.Order(plan).Cuts, 0),
            ($"leftovers kept, {currency}", Kept, 2),
            ("pieces not cut", plan => plan.Unplaced.Sum(entry => entry.Count), 0),
        ];
        writer.WriteLine($"{"",-32}" + string.Concat(variants.Select(variant => $" {Short(variant.Name),20}")));
        foreach (var (label, of, decimals) in rows)
        {
            writer.WriteLine($"{label,-32}" + string.Concat(variants.Select(variant =>
                " " + of(variant.Plan).ToString("F" + decimals, CultureInfo.InvariantCulture).PadLeft(20))));
        }

        var first = variants[0];
        foreach (var other in variants.Skip(1))
        {
            writer.WriteLine();
            writer.WriteLine(Verdict(first, other, currency));
            Bought(writer, first.Plan, other.Plan);
        }
    }

    private static decimal Kept(Plan plan) => plan.Layouts.Sum(layout =>
        layout.Offcuts.Where(offcut => offcut.Keep).Sum(offcut => offcut.Value.Amount) * layout.Count);

    /// <summary>A difference is proven when the dearer plan's lower bound is above the cheaper plan's cost.</summary>
    private static string Verdict(Variant first, Variant other, string currency)
    {
        var difference = other.Plan.TotalCost - first.Plan.TotalCost;
        if (!first.Plan.Unplaced.IsEmpty || !other.Plan.Unplaced.IsEmpty)
        {
            return $"{other.Name}: not all parts are cut in both, so the costs cannot be compared.";
        }

        var (cheap, dear) = difference < Money.Zero ? (other.Plan, first.Plan) : (first.Plan, other.Plan);
        var words = difference == Money.Zero ? "costs the same"
            : string.Create(CultureInfo.InvariantCulture, $"costs {Math.Abs(difference.Amount):0.00} {currency} {(difference < Money.Zero ? "less" : "more")}");
        var proven = cheap.TotalCost < dear.LowerBound
            ? string.Create(CultureInfo.InvariantCulture, $"proven: at least {dear.LowerBound.Amount - cheap.TotalCost.Amount:0.00} of it remains however well both are planned")
            : "not proven: it lies within the gap of the plans";
        return $"{other.Name} against {first.Name}: {words} ({(difference == Money.Zero && first.Plan.Status == SolveStatus.Proven && other.Plan.Status == SolveStatus.Proven ? "both are proven" : proven)}).";
    }

    private static void Bought(TextWriter writer, Plan first, Plan other)
    {
        var before = CostSheet.BuyLines(first).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        var after = CostSheet.BuyLines(other).ToDictionary(line => line.Stock.Id, line => line.Count, StringComparer.Ordinal);
        foreach (var id in before.Keys.Union(after.Keys).Order(StringComparer.Ordinal))
        {
            var change = after.GetValueOrDefault(id) - before.GetValueOrDefault(id);
            if (change != 0)
            {
                writer.WriteLine($"  {(change > 0 ? "+" : "−")}{Math.Abs(change)} {id}");
            }
        }
    }

    private static string Short(string name) => name.Length <= 20 ? name : name[..19] + "…";
}
