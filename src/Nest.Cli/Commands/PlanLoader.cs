using Nest.Core.Check;
using Nest.Core.Plans;
using Nest.Data;

namespace Nest.Cli.Commands;

/// <summary>Reads a saved plan and has it checked, for the commands that go on from it.</summary>
internal static class PlanLoader
{
    /// <returns>The plan; or null and the exit code, when it is no plan or does not pass its check (it is said why).</returns>
    public static (Plan? Plan, int Refused) Load(World world, string path)
    {
        var read = PlanFile.Read(PlanPlace.FileOf(world, path));
        Screen.Report(world.Error, read.Findings);
        if (read.Value is not { } plan)
        {
            return (null, ExitCode.InputRefused);
        }

        var findings = PlanChecker.Check(plan);
        if (findings.HasErrors())
        {
            Screen.Report(world.Error, findings);
            return (null, ExitCode.CheckerRefused);
        }

        return (plan, ExitCode.Done);
    }
}
