using Nest.Data;
using Nest.Data.Models;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>Reads and checks a job for a command; what is wrong is told.</summary>
internal static class JobLoader
{
    /// <summary>Null after errors.</summary>
    public static JobInput? Load(World world, string input, ModelJobChoices? models = null)
    {
        var read = Planner.Read(input, models);
        Screen.Report(world.Error, read.Findings);
        return read.Value;
    }
}
