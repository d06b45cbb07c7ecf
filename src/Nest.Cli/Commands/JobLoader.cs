using Nest.Data;
using Nest.Data.Tables;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>Reads and checks a job for a command; what is wrong is told.</summary>
internal static class JobLoader
{
    /// <summary>Reads a job, a parts list, or with <c>-</c> the list that is piped in.</summary>
    public static ReadResult<JobInput> Read(World world, string input, TableChoices? choices = null) =>
        input == "-" ? Planner.Read(world.In(), "-", choices) : Planner.Read(input, choices);

    /// <summary>Null after errors.</summary>
    public static JobInput? Load(World world, string input, TableChoices? choices = null)
    {
        var read = Read(world, input, choices);
        Screen.Report(world.Error, read.Findings);
        return read.Value;
    }
}
