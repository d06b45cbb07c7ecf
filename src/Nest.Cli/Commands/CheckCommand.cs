using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Output.Folders;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary><c>nest check</c>: verifies a saved plan from its file alone.</summary>
internal static class CheckCommand
{
    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described };
        command.With(input);
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(input)));
    }

    private static int Run(World world, string input)
    {
        var file = PlanPlace.FileOf(world, input);
        var read = PlanFile.Read(file);
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { } plan)
        {
            return ExitCode.InputRefused;
        }

        var folder = PlanPlace.FolderOf(file);
        var findings = Planner.Check(plan).AddRange(FolderCheck.Of(folder, Fingerprint.Of(plan), Path.GetRelativePath(folder, Path.GetFullPath(file))));
        Screen.Report(world.Out, findings);
        if (findings.HasErrors())
        {
            world.Out.WriteLine($"REFUSED: {findings.Count(finding => finding.Severity == Severity.Error)} finding(s). Do not cut by this plan.");
            return ExitCode.CheckerRefused;
        }

        foreach (var use in InUse.Of(folder))
        {
            world.Out.WriteLine($"In use: {use}");
        }

        var pieces = plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length);
        world.Out.WriteLine(
            $"OK: {plan.Layouts.Length} layouts, {plan.Layouts.Sum(layout => layout.Count)} stock pieces, {pieces} blanks; "
            + $"cost {plan.TotalCost} {plan.Job.Currency}.");
        // A bound is the outcome of a whole search: no file can show it.
        world.Out.WriteLine(plan.Bound.Value is { } bound
            ? $"The bound of {bound} {plan.Job.Currency} ({plan.Bound.Source}) {(plan.Status == SolveStatus.Proven ? "and 'proven' are" : "is")} the planner's word: not recomputed here."
            : "The file claims no lower bound.");
        if (plan.IsContradicted)
        {
            world.Out.WriteLine("That bound is above the cost, so it is wrong: the plan can be cut, but nothing is proven of it. This is a fault of Nest; please report the job.");
        }
        return ExitCode.Done;
    }
}
