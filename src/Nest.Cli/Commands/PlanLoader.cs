using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>Reads a saved plan and has it checked, for the commands that go on from it.</summary>
internal static class PlanLoader
{
    /// <returns>The plan; or null and the exit code, when it is no plan or does not pass its check (it is said why).</returns>
    public static (Plan? Plan, int Refused) Load(World world, string path)
    {
        var loaded = Planner.Load(PlanPlace.FileOf(world, path));
        Screen.Report(world.Error, loaded.Findings);
        return (loaded.Plan, loaded.Refused ? ExitCode.CheckerRefused : loaded.Plan is null ? ExitCode.InputRefused : ExitCode.Done);
    }
}
